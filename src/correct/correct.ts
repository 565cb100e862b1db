/** Use of a factor: a new reading of the candidate, corrected, with its uncertainty. */
import { MeterpairError } from '../error.js';
import { combineIndependent } from '../statistics/combineIndependent.js';
import { percent } from '../statistics/digits.js';
import { coverageFactor } from '../statistics/distributions.js';
import {
  type CorrectedReading,
  type FactorEntry,
  type Factors,
  KNOWN_EXACTLY,
  type Warning,
} from '../vocabulary.js';
import { readingParts } from './readingParts.js';
import { saidBy } from './saidBy.js';
import { settledReading } from './settledReading.js';

/** A reading so near a measured wavelength counts as taken at it, nm (common practice, no source). */
export const SAME_WAVELENGTH_NM = 2;

/** A new reading of the candidate. */
export interface NewReading {
  /** Indication of the candidate, mW, with its zero subtracted unless `zero_mW` says what that was. */
  readonly reading_mW: number;
  readonly wavelength_nm: number;
  /** Indication with the beam blocked, mW: it is subtracted. */
  readonly zero_mW?: number;
  /** When it was taken, in s after switch-on; left out: settled, as the factors want it. */
  readonly read_at_s?: number;
}

/**
 * Corrected power = factor × reading, with U from the factor, what one placement differs from the
 * next (as series differ), the display step (step/√12) and the scatter of a single reading, combined
 * by Welch–Satterthwaite (JCGM 100:2008, 5.1.6 and G.4).
 *
 * The factors say which kind of reading they hold for. With `read_at_s` a reading is brought to a
 * settled one where the candidate's time constant is known; what cannot be brought there is cautioned.
 *
 * Between two measured wavelengths a coating need not run straight: the factor is the geometric
 * middle of both neighbours, with their distance as a rectangular contribution, and the interval
 * never ends short of either neighbour's own interval; a caution says so. So it is where a wavelength
 * counts as that of two measured ones. Beyond the measured
 * wavelengths, or above the rated maximum, the correction is refused.
 *
 * @param factors what factors.json holds
 * @returns value and U in mW, the coverage factor k, an interval, and cautions to read before use
 * @throws reading-not-positive, wavelength-out-of-range, power-out-of-range, factors-invalid
 */
export function correct(factors: Factors, reading: NewReading): CorrectedReading {
  const { wavelength_nm } = reading;
  const net_mW = reading.reading_mW - (reading.zero_mW ?? 0);
  check(factors, net_mW, wavelength_nm);
  const { entry, reach, cautions: about } = entryAt(factors, wavelength_nm);
  const settled = settledReading(factors, net_mW, reading.read_at_s);
  const reading_mW = settled.reading_mW;
  const cautions = [...about, ...settled.cautions, ...powerCautions(entry, reading_mW)];
  if (entry.verdict === 'inconclusive') {
    cautions.push({
      code: 'factor-inconclusive',
      message: `The factor at ${wavelength_nm} nm is not known well enough for the tolerance of ${factors.tolerance_percent} %.`,
    });
  }
  if (entry.next_series_relative_sd === undefined) {
    cautions.push({
      code: 'placement-not-stated',
      message:
        'These factors do not say how much one placement of the candidate differs from the next, so U lacks that: make them anew from the study.',
    });
  }
  const against = entry.reference_contradicted_by ?? [];
  if (against.length > 0) {
    cautions.push({
      code: 'reference-contradicted',
      message: `The reference is contradicted at the wavelength of this factor (by ${against.map((kind) => saidBy(kind)).join(' and ')}). The factor may carry an error of the reference that U does not hold: find out first which of them is right.`,
    });
  }
  if (!factors.reference.uncertainty_stated) {
    cautions.push({
      code: 'relative-to-reference',
      message: `The reference "${factors.reference.name}" states no uncertainty: U holds relative to this reference only.`,
    });
  }
  if (factors.candidate.resolution_mW === null) {
    cautions.push({
      code: 'resolution-not-stated',
      message: "The candidate's display step is not stated, so U lacks its rounding.",
    });
  }
  const { standardUncertainty: u, dof } = combineIndependent(
    readingParts(factors, entry, { indication_mW: net_mW, settling: settled.standardUncertainty }),
  );
  // In between nothing is known better than at the neighbours: their own intervals are kept.
  const half = Math.max(coverageFactor(factors.confidence, dof) * u, Math.expm1(reach));
  const value = entry.factor * reading_mW;
  if (half > factors.tolerance_percent / 100) {
    cautions.push({
      code: 'beyond-tolerance',
      message: `This corrected reading is known to ± ${percent(half)}, and the tolerance is ${factors.tolerance_percent} %. Put the head up several times and take the mean, or see from the budget what else would help.`,
    });
  }
  return {
    value,
    U: half * value,
    k: u > 0 ? half / u : coverageFactor(factors.confidence, dof),
    low: value * Math.exp(-half),
    high: value * Math.exp(half),
    factor: entry.factor,
    dof,
    cautions,
  };
}

function check(factors: Factors, reading_mW: number, wavelength_nm: number): void {
  if (!Number.isFinite(reading_mW) || reading_mW <= 0) {
    throw new MeterpairError({
      code: 'reading-not-positive',
      message: 'A reading of zero or less cannot be corrected by a factor.',
      found: String(reading_mW),
      expected: 'a reading above 0 mW with the zero of the display subtracted',
    });
  }
  if (!Number.isFinite(wavelength_nm)) {
    throw new MeterpairError({
      code: 'wavelength-out-of-range',
      message: 'The wavelength must be a number in nm.',
      found: String(wavelength_nm),
    });
  }
  if (factors.factors.length === 0) {
    throw new MeterpairError({
      code: 'factors-invalid',
      message: 'These factors hold no wavelength: the comparison was inconclusive everywhere.',
    });
  }
  const most = factors.candidate.rated_max_mW;
  if (most !== null && reading_mW > most) {
    throw new MeterpairError({
      code: 'power-out-of-range',
      message: 'The reading is above the rated maximum of the candidate.',
      found: `${reading_mW} mW`,
      expected: `at most ${most} mW`,
    });
  }
}

function entryAt(
  factors: Factors,
  nm: number,
): {
  readonly entry: FactorEntry;
  /** Distance from the factor to the ends of the neighbours' intervals, on the log scale; 0 where measured. */
  readonly reach: number;
  readonly cautions: Warning[];
} {
  const sorted = [...factors.factors].sort((a, b) => a.wavelength_nm - b.wavelength_nm);
  const nearest = sorted.reduce((a, b) =>
    Math.abs(b.wavelength_nm - nm) < Math.abs(a.wavelength_nm - nm) ? b : a,
  );
  const same = sorted.filter((entry) => Math.abs(entry.wavelength_nm - nm) <= SAME_WAVELENGTH_NM);
  if (same.length > 1) return envelope(same[0], same[same.length - 1], nm);
  if (same.length === 1) return { entry: nearest, reach: 0, cautions: [] };
  const below = sorted.filter((entry) => entry.wavelength_nm < nm).at(-1);
  const above = sorted.find((entry) => entry.wavelength_nm > nm);
  if (below === undefined || above === undefined) {
    const list = sorted.map((entry) => entry.wavelength_nm).join(', ');
    throw new MeterpairError({
      code: 'wavelength-out-of-range',
      message: 'No factor may be given beyond the measured wavelengths.',
      found: `${nm} nm`,
      expected: `a wavelength from ${sorted[0].wavelength_nm} to ${sorted[sorted.length - 1].wavelength_nm} nm (measured: ${list})`,
    });
  }
  return envelope(below, above, nm);
}

function envelope(below: FactorEntry, above: FactorEntry, nm: number): ReturnType<typeof entryAt> {
  const entry = between(below, above, nm);
  return {
    entry,
    reach: Math.max(Math.log(entry.high / entry.factor), Math.log(entry.factor / entry.low)),
    cautions: [betweenCaution(below, above, nm)],
  };
}

/** The envelope of two neighbours: their geometric middle, their distance as a rectangle. */
function between(below: FactorEntry, above: FactorEntry, nm: number): FactorEntry {
  const pair = [below, above];
  const factor = Math.sqrt(below.factor * above.factor);
  const rectangle = Math.abs(Math.log(above.factor / below.factor)) / 2 / Math.sqrt(3);
  const worse = pair.reduce((a, b) =>
    b.relative_standard_uncertainty > a.relative_standard_uncertainty ? b : a,
  );
  const u = Math.hypot(worse.relative_standard_uncertainty, rectangle);
  return {
    ...worse,
    ...widerSpread(pair),
    wavelength_nm: nm,
    factor,
    low: Math.min(below.low, above.low),
    high: Math.max(below.high, above.high),
    relative_standard_uncertainty: u,
    dof: Math.min(
      KNOWN_EXACTLY,
      worse.dof * (u / Math.max(worse.relative_standard_uncertainty, 1e-12)) ** 4,
    ),
    candidate_range_mW: [
      Math.max(below.candidate_range_mW[0], above.candidate_range_mW[0]),
      Math.min(below.candidate_range_mW[1], above.candidate_range_mW[1]),
    ],
    verdict: pair.some((entry) => entry.verdict === 'inconclusive')
      ? 'inconclusive'
      : worse.verdict,
    reference_contradicted_by: [
      ...new Set(pair.flatMap((entry) => entry.reference_contradicted_by ?? [])),
    ],
  };
}

/** The larger spread of both neighbours; not known where one of them does not say. */
function widerSpread(
  pair: readonly FactorEntry[],
): Pick<FactorEntry, 'next_series_relative_sd' | 'next_series_dof'> {
  const known = pair.filter((entry) => entry.next_series_relative_sd !== undefined);
  if (known.length < pair.length) {
    return { next_series_relative_sd: undefined, next_series_dof: undefined };
  }
  const spread = (entry: FactorEntry) => entry.next_series_relative_sd ?? 0;
  const { next_series_relative_sd, next_series_dof } = known.reduce((a, b) =>
    spread(b) > spread(a) ? b : a,
  );
  return { next_series_relative_sd, next_series_dof };
}

function betweenCaution(below: FactorEntry, above: FactorEntry, nm: number): Warning {
  const both = `${below.wavelength_nm} and ${above.wavelength_nm} nm`;
  const near = [below, above].every(
    (one) => Math.abs(one.wavelength_nm - nm) <= SAME_WAVELENGTH_NM,
  );
  return {
    code: 'between-wavelengths',
    message: near
      ? `${nm} nm counts as both of ${both}: the factor is the middle of theirs, and all between them is taken as equally likely.`
      : `${nm} nm was not measured: the factor is the middle of those at ${both}, and all between them is taken as equally likely. A coating need not behave in between as it does at its neighbours.`,
  };
}

function powerCautions(entry: FactorEntry, reading_mW: number): Warning[] {
  const [low, high] = entry.candidate_range_mW;
  if (reading_mW >= low && reading_mW <= high) return [];
  const where =
    low > high
      ? 'at no power that both neighbouring wavelengths share'
      : `between ${low} and ${high} mW`;
  return [
    {
      code: 'power-outside-range',
      message: `The factor was measured ${where} (candidate indication), and this reading is ${reading_mW} mW: offset or heating may make it wrong here, and U does not hold that.`,
    },
  ];
}
