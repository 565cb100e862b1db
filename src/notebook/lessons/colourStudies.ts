/** Two meters at several colours, evening after evening, and what is said about one factor for all. */
import { simulateSeries } from '../../simulate/bench.js';
import { type Random, seededRandom } from '../../statistics/random.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import type { CommonFactor } from '../../vocabulary.js';
import { commonFactor, type WavelengthEstimate } from '../../wavelengths/commonFactor.js';
import { type Share, shareOf } from './counts.js';
import { lapLogs, studentFactor } from './estimates.js';
import { QUIET_BENCH } from './repeat.js';

const EVENINGS = 1000;

/** An invented candidate: its true factor by wavelength in nm, and how restless a lap is, in percent. */
export interface ColourStudy {
  readonly name: string;
  readonly factors: Readonly<Record<number, number>>;
  readonly scatter: number;
  readonly laps: number;
}

/** One evening: ln K with its standard uncertainty at each wavelength. */
export function evening(study: ColourStudy, random: Random): readonly WavelengthEstimate[] {
  const each = study.scatter / 100 / Math.SQRT2;
  const noise = { reference: each, candidate: each };
  return Object.entries(study.factors).map(([nm, factor]) => {
    const bench = { ...QUIET_BENCH, noise, factor, laps: study.laps };
    const logs = lapLogs(simulateSeries(bench, random).series);
    return {
      wavelength_nm: Number(nm),
      logFactor: mean(logs),
      standardUncertainty: standardDeviation(logs) / Math.sqrt(logs.length),
      dof: logs.length - 1,
    };
  });
}

/** What the package says of one factor for all; tolerance in percent. */
export const judged = (estimates: readonly WavelengthEstimate[], tolerance: number) =>
  commonFactor(estimates, { tolerance: tolerance / 100, confidence: 0.95, shared: 0 });

/** How far the interval of any colour reaches from the common factor, in percent. */
function reaches(estimates: readonly WavelengthEstimate[], common: CommonFactor): number {
  const centre = Math.log(common.factor ?? 1);
  const far = estimates.map(
    (one) =>
      Math.abs(one.logFactor - centre) + studentFactor(one.dof + 1) * one.standardUncertainty,
  );
  return 100 * Math.expm1(Math.max(...far));
}

/** What a thousand evenings of one study say. */
export interface CountedStudy {
  readonly study: ColourStudy;
  /** How far the true factors lie from their mean at most, in percent. */
  readonly most: number;
  /** Evenings on which the test finds a difference. */
  readonly differ: Share;
  /** Evenings on which the intervals of all colours lie within the tolerance of the common factor. */
  readonly within: Share;
}

export function countStudy(study: ColourStudy, tolerance: number): CountedStudy {
  const random = seededRandom(1);
  const all = Array.from({ length: EVENINGS }, () => {
    const estimates = evening(study, random);
    const common = judged(estimates, tolerance);
    return { differ: (common.p ?? 1) < 0.05, within: reaches(estimates, common) <= tolerance };
  });
  const share = (key: 'differ' | 'within') =>
    shareOf(all.filter((one) => one[key]).length, EVENINGS);
  const logs = Object.values(study.factors).map(Math.log);
  const most = 100 * Math.expm1(Math.max(...logs.map((log) => Math.abs(log - mean(logs)))));
  return { study, most, differ: share('differ'), within: share('within') };
}
