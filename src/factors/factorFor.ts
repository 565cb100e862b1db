/** The factor for a wavelength and a power, and what leads there. */

import { MeterpairError } from '../error.js';
import { percent, significant } from '../findings/formatNumber.js';
import { curveOfLevels } from '../power/curveOfLevels.js';
import { BEYOND, factorAtPower } from '../power/factorAtPower.js';
import type { Part } from '../statistics/combineIndependent.js';
import { coverageFactor } from '../statistics/distributions.js';
import { hull } from '../statistics/summary.js';
import type { FactorEntry, Factors, Warning } from '../vocabulary.js';
import { SAME_WAVELENGTH_NM } from '../wavelengths/atWavelength.js';

/** Half-width of the range the wavelength of another source of this colour may lie in, nm (common practice, no source). */
const ANOTHER_SOURCE_NM = 5;

export interface FactorFor {
  /** The entry whose spread, scatter and words count. */
  readonly entry: FactorEntry;
  readonly factor: number;
  /** ln K without what placements leave in it. */
  readonly rest: Part;
  /** What placements leave in ln K. */
  readonly placement: number;
  /** What one placement more brings, relative; `null` where the factors do not say. */
  readonly nextPlacement: { readonly sd: number; readonly dof: number } | null;
  /** Scatter of one reading, relative. */
  readonly scatter: { readonly sd: number; readonly dof: number };
  /** Half-widths of rectangular contributions to ln K. */
  readonly between: number;
  readonly outside: number;
  /** Of the wavelength: between two colours, or another source of the same one. */
  readonly colour: number;
  /** The interval of the factor itself reaches this far, on the log scale. */
  readonly reach: number;
  readonly cautions: readonly Warning[];
}

/** @throws wavelength-out-of-range, power-out-of-range */
export function factorFor(factors: Factors, nm: number, reading_mW: number): FactorFor {
  const sorted = [...factors.factors].sort((a, b) => a.wavelength_nm - b.wavelength_nm);
  const same = sorted.filter((one) => Math.abs(one.wavelength_nm - nm) <= SAME_WAVELENGTH_NM);
  if (same.length === 1) {
    const colour = slopeAt(sorted, same[0], reading_mW, factors) * ANOTHER_SOURCE_NM;
    return { ...atPower(same[0], reading_mW, factors), colour };
  }
  const below = same[0] ?? sorted.filter((one) => one.wavelength_nm < nm).at(-1);
  const above = same.at(-1) ?? sorted.find((one) => one.wavelength_nm > nm);
  if (below === undefined || above === undefined) {
    throw new MeterpairError({
      code: 'wavelength-out-of-range',
      message: 'No factor may be given beyond the measured wavelengths.',
      found: `${nm} nm`,
      expected: `a wavelength from ${sorted[0].wavelength_nm} to ${sorted[sorted.length - 1].wavelength_nm} nm (measured: ${sorted.map((one) => one.wavelength_nm).join(', ')})`,
    });
  }
  return between(below, above, nm, reading_mW, factors);
}

/** The factor of one wavelength at the reading's own power. */
function atPower(entry: FactorEntry, reading_mW: number, { confidence }: Factors): FactorFor {
  const [whole, rest, placement] = (['all', 'rest', 'placement'] as const).map((part) =>
    factorAtPower(curveOfLevels(entry, confidence, part), reading_mW),
  );
  if (whole === null || rest === null || placement === null) throw outOfRange(entry, reading_mW);
  const k = coverageFactor(confidence, whole.dof);
  return {
    entry,
    factor: Math.exp(whole.logFactor),
    rest,
    placement: placement.standardUncertainty,
    ...spreadOf(entry),
    between: whole.between,
    outside: whole.outside,
    colour: 0,
    reach: k * whole.standardUncertainty,
    cautions: powerCautions(entry, reading_mW, whole.outside),
  };
}

const spreadOf = (entry: FactorEntry): Pick<FactorFor, 'nextPlacement' | 'scatter'> => ({
  nextPlacement:
    entry.next_series_relative_sd === undefined
      ? null
      : { sd: entry.next_series_relative_sd, dof: entry.next_series_dof ?? 1 },
  scatter: { sd: entry.reading_relative_sd, dof: entry.reading_dof },
});

/** Steepest change of ln K per nm to a measured neighbour, at this power or over all. */
function slopeAt(
  sorted: readonly FactorEntry[],
  entry: FactorEntry,
  reading_mW: number,
  { confidence }: Factors,
): number {
  const at = (one: FactorEntry) =>
    factorAtPower(curveOfLevels(one, confidence), reading_mW)?.logFactor ?? Math.log(one.factor);
  const place = sorted.indexOf(entry);
  const slopes = [sorted[place - 1], sorted[place + 1]].flatMap((one) =>
    one === undefined
      ? []
      : [Math.abs(at(one) - at(entry)) / Math.abs(one.wavelength_nm - entry.wavelength_nm)],
  );
  return Math.max(0, ...slopes);
}

/** The envelope of two neighbours: their geometric middle, their distance as a rectangle. */
function between(
  below: FactorEntry,
  above: FactorEntry,
  nm: number,
  reading_mW: number,
  factors: Factors,
): FactorFor {
  const pair = [below, above].map((entry) => atPower(entry, reading_mW, factors));
  const [a, b] = pair;
  const factor = Math.sqrt(a.factor * b.factor);
  const apart = Math.abs(Math.log(b.factor / a.factor)) / 2;
  const worse = a.rest.standardUncertainty > b.rest.standardUncertainty ? a : b;
  return {
    entry: worstOf(below, above),
    factor,
    rest: worse.rest,
    placement: Math.max(a.placement, b.placement),
    ...spreadOf(worstOf(below, above)),
    between: Math.max(a.between, b.between),
    outside: Math.max(a.outside, b.outside),
    colour: apart,
    reach: apart + Math.max(a.reach, b.reach),
    cautions: [
      betweenCaution(below, above, nm),
      ...a.cautions,
      ...b.cautions.filter((one) => !a.cautions.some((other) => other.code === one.code)),
    ],
  };
}

/** What is said of a factor between two: the worse of both in everything. */
function worstOf(below: FactorEntry, above: FactorEntry): FactorEntry {
  const spread = ({ next_series_relative_sd: sd }: FactorEntry) => sd ?? Number.POSITIVE_INFINITY;
  const wider = spread(above) > spread(below) ? above : below;
  const scattered = above.reading_relative_sd > below.reading_relative_sd ? above : below;
  return {
    ...wider,
    reading_relative_sd: scattered.reading_relative_sd,
    reading_dof: scattered.reading_dof,
    verdict: [below, above].some((one) => one.verdict === 'inconclusive')
      ? 'inconclusive'
      : wider.verdict,
    reference_contradicted_by: [
      ...new Set([below, above].flatMap((one) => one.reference_contradicted_by ?? [])),
    ],
  };
}

function betweenCaution(below: FactorEntry, above: FactorEntry, nm: number): Warning {
  const both = `${below.wavelength_nm} and ${above.wavelength_nm} nm`;
  // Where one of the two is as near as that alone, its own factor is given.
  const near = Math.abs(below.wavelength_nm - nm) <= SAME_WAVELENGTH_NM;
  return {
    code: 'between-wavelengths',
    message: near
      ? `${nm} nm counts as both of ${both}: the factor is the middle of theirs, and all between them is taken as equally likely.`
      : `${nm} nm was not measured: the factor is the middle of those at ${both}, and all between them is taken as equally likely. A coating need not behave in between as it does at its neighbours.`,
  };
}

/** Lowest and highest indication that the levels of a wavelength hold. */
const rangeOf = ({ levels }: FactorEntry) => hull(levels.map((one) => one.candidate_mW));

function powerCautions(entry: FactorEntry, reading_mW: number, outside: number): Warning[] {
  if (!(outside > 0)) return [];
  const [low, high] = rangeOf(entry).map((one) => significant(one, 4));
  return [
    {
      code: 'power-outside-range',
      message: `The factor was measured between ${low} and ${high} mW (candidate indication), and this reading is ${significant(reading_mW, 4)} mW. U holds ± ${percent(outside)} for an offset or a bend that nobody looked for out there; measure at this power to know better.`,
    },
  ];
}

function outOfRange(entry: FactorEntry, reading_mW: number): MeterpairError {
  const [low, high] = rangeOf(entry);
  return new MeterpairError({
    code: 'power-out-of-range',
    message: `At ${entry.wavelength_nm} nm no factor may be given this far from the measured powers: an offset or heating may make it wrong.`,
    found: `a reading of ${significant(reading_mW, 4)} mW`,
    expected: `${significant(low / BEYOND, 3)} to ${significant(high * BEYOND, 3)} mW (measured: ${significant(low, 3)} to ${significant(high, 3)} mW)`,
  });
}
