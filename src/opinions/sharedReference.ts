/** Do several sets of factors lean on one reference under one calibration? */
import type { Factors } from '../vocabulary.js';

/** What a set of factors says of its reference. */
export interface StatedReference {
  readonly name: string;
  /**
   * Relative standard uncertainty of its calibration. `null`: not stated. `undefined`: stated, and
   * the file does not say how large; it is then taken to be that of the others.
   */
  readonly relative_standard_uncertainty: number | null | undefined;
}

export interface SharedReference {
  readonly sameName: boolean;
  /** Same name and same stated uncertainty: what one factor owes to it, all owe to it. */
  readonly same: boolean;
  /** The calibration's relative standard uncertainty when it is shared; `null`: none to take out. */
  readonly common: number | null;
}

/** Stated uncertainties that differ by less are the same but for rounding. */
const SAME_UNCERTAINTY = 1e-6;

/** Names are the same whatever their case and the blanks around them. */
export function sameName(one: string, other: string): boolean {
  return one.trim().toLowerCase() === other.trim().toLowerCase();
}

/**
 * Is the reference the same in all sets, and how much of their uncertainty do they share by it?
 *
 * A reference that was calibrated anew under the same figure cannot be told from one that was not.
 *
 * @param references at least one, in any order
 */
export function sharedReference(references: readonly StatedReference[]): SharedReference {
  const names = references.every((one) => sameName(one.name, references[0].name));
  const stated = references.flatMap(({ relative_standard_uncertainty: u }) =>
    u === undefined ? [] : [u],
  );
  const last = stated.at(-1) ?? null;
  const same =
    names &&
    stated.every((one) =>
      one === null || last === null
        ? one === last
        : Math.abs(one - last) <= SAME_UNCERTAINTY * last,
    );
  return { sameName: names, same, common: same ? last : null };
}

/** What a factors.json says of its reference. */
export function statedReference({ reference }: Pick<Factors, 'reference'>): StatedReference {
  const { name, uncertainty_stated, relative_standard_uncertainty: written } = reference;
  return {
    name,
    relative_standard_uncertainty: written === undefined && !uncertainty_stated ? null : written,
  };
}

/** The common part, or `null` when a factor is surer than the calibration that it is said to hold. */
export function commonToAll(
  { common }: SharedReference,
  factors: readonly { readonly relative_standard_uncertainty: number }[],
): number | null {
  if (common === null) return null;
  return factors.every((one) => common <= one.relative_standard_uncertainty) ? common : null;
}
