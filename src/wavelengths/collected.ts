/** Contributions to a factor on their way into its budget. */
import type { Lacking } from '../budget/nextImprovement.js';
import type { Part } from '../statistics/combineIndependent.js';
import { type Contribution, type ContributionKind, KNOWN_EXACTLY } from '../vocabulary.js';

export type ShapedInput = Omit<Contribution, 'share'> & {
  readonly shape: 'normal' | 'student' | 'rectangular';
};

/** Contributions, and what could not become one because nobody recorded it. */
export interface Collected {
  readonly inputs: readonly ShapedInput[];
  readonly missing: readonly Lacking[];
}

export const NOTHING: Collected = { inputs: [], missing: [] };

/** Puts collections together. */
export function collect(parts: readonly Collected[]): Collected {
  return {
    inputs: parts.flatMap((part) => part.inputs),
    missing: parts.flatMap((part) => part.missing),
  };
}

export const only = (input: ShapedInput): Collected => ({ inputs: [input], missing: [] });

/** What nobody recorded, and so is in no budget. */
export const lacking = (kind: ContributionKind, text: string): Collected => ({
  inputs: [],
  missing: [{ kind, text }],
});

/** What lies anywhere between limits, its standard uncertainty taken as known exactly. */
export const rectangular = (
  kind: ContributionKind,
  name: string,
  relative_standard_uncertainty: number,
  note: string,
): ShapedInput => ({
  name,
  kind,
  relative_standard_uncertainty,
  dof: KNOWN_EXACTLY,
  type: 'B',
  shape: 'rectangular',
  note,
});

/** Limits ± half as a rectangle (JCGM 100:2008, 4.3.7); nothing for 0. */
export const limits = (kind: ContributionKind, name: string, half: number, note: string) =>
  half === 0 ? NOTHING : only(rectangular(kind, name, half / Math.sqrt(3), note));

/** What scatter shows, or (type B) what stands in for it. */
export const scattered = (
  kind: ContributionKind,
  name: string,
  { standardUncertainty, dof }: Part,
  note: string,
  type: Contribution['type'] = 'A',
): ShapedInput => ({
  name,
  kind,
  relative_standard_uncertainty: standardUncertainty,
  dof,
  type,
  shape: 'student',
  note,
});
