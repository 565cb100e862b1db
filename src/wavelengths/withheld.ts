/** Reasons for which a wavelength gives no verdict, however narrow its interval may be. */

import { percent, significant } from '../findings/formatNumber.js';
import type { OneKind } from '../readings/oneKind.js';
import { type SeriesAnalysis, suspectWords } from '../series/analyseSeries.js';
import { coverageFactor } from '../statistics/distributions.js';
import { twoSidedP } from '../statistics/student.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import type { Study, Suspect, Warning } from '../vocabulary.js';
import { SAME_WAVELENGTH_NM } from './atWavelength.js';
import type { WavelengthEstimate } from './commonFactor.js';

/** Why a verdict is withheld, with the warning that goes with it (a reason of `null`: said, not withheld). */
export interface Objection {
  readonly wavelength_nm: number;
  readonly reason: string | null;
  readonly warning: Warning | null;
}

/** Entries that look like slips of the pen: nothing is decided on them. */
export function openSlips(
  nm: number,
  series: readonly SeriesAnalysis[],
  suspects: readonly Suspect[],
): Objection[] {
  const own = suspects.filter((one) => series.some(({ result }) => result.id === one.series));
  return own.length === 0 ? [] : [{ wavelength_nm: nm, reason: suspectWords(own), warning: null }];
}

/** Series in which a meter stood at a wrong wavelength setting that no ratio makes good. */
export function wrongSettings(
  nm: number,
  series: readonly SeriesAnalysis[],
  { settingStates }: OneKind,
): Objection[] {
  const wrong = series.filter(({ result }) => {
    const states = settingStates.get(result.id);
    return states?.reference.status === 'wrong' || states?.candidate.status === 'wrong';
  });
  if (wrong.length === 0) return [];
  const names = wrong.map(({ result }) => `"${result.id}"`).join(', ');
  return [
    {
      wavelength_nm: nm,
      reason: `In ${names} a meter was set to another wavelength than that of the source, and what that does to its readings was not measured: measure again at the right setting, or take a series of that meter under both settings on this source.`,
      warning: null,
    },
  ];
}

/** Series of a lap or two that are not in the factor because longer ones are: what they say of it. */
export function shortSeries(
  estimate: WavelengthEstimate,
  short: readonly SeriesAnalysis[],
  study: Study,
): Objection[] {
  if (short.length === 0) return [];
  const nm = estimate.wavelength_nm;
  const logs = short.map(({ laps }) =>
    mean(laps.map((lap) => Math.log(lap.reference.reading_mW / lap.candidate.reading_mW))),
  );
  const gap = mean(logs) - estimate.logFactor;
  const names = short.map(({ result }) => `"${result.id}"`).join(', ');
  const head = `At ${nm} nm the factor leaves out ${names}: too short for a factor of their own beside longer series. By themselves they would give ${significant(Math.exp(mean(logs)), 4)}`;
  const beyond = Math.expm1(Math.abs(gap)) > study.tolerance;
  const contradicts = beyond && (logs.length < 3 || significantGap(gap, logs, estimate));
  return [
    {
      wavelength_nm: nm,
      reason: contradicts ? 'The series that it leaves out contradict it.' : null,
      warning: contradicts
        ? {
            code: 'short-series-contradict',
            message: `${head}, ${percent(Math.expm1(Math.abs(gap)))} from the others and beyond the tolerance. Find out which are right.`,
          }
        : { code: 'short-series-left-out', message: `${head}.` },
    },
  ];
}

function significantGap(
  gap: number,
  logs: readonly number[],
  { standardUncertainty: u }: WavelengthEstimate,
): boolean {
  const own = standardDeviation(logs) / Math.sqrt(logs.length);
  const scale = Math.hypot(own, u);
  return !(scale > 0) || twoSidedP(gap / scale, logs.length - 1) < 0.05;
}

/** Neighbours so near that one coating cannot do both: factors of within 2 nm that exclude each other. */
export function neighbours(estimates: readonly WavelengthEstimate[], study: Study): Objection[] {
  return estimates.flatMap((one) =>
    estimates.flatMap((other): Objection[] => {
      const near = Math.abs(one.wavelength_nm - other.wavelength_nm) <= SAME_WAVELENGTH_NM;
      if (one === other || !near) return [];
      const gap = Math.abs(one.logFactor - other.logFactor);
      const half = (e: WavelengthEstimate) =>
        coverageFactor(study.confidence, e.dof) * e.standardUncertainty;
      if (!(gap > Math.hypot(half(one), half(other)))) return [];
      const first = one.wavelength_nm < other.wavelength_nm;
      const beyond = Math.expm1(gap) > study.tolerance;
      return [
        {
          wavelength_nm: one.wavelength_nm,
          reason: beyond
            ? `It and the factor at ${other.wavelength_nm} nm contradict each other.`
            : null,
          warning: first
            ? {
                code: 'neighbours-contradict',
                message: `The factors at ${one.wavelength_nm} and ${other.wavelength_nm} nm differ by ${percent(Math.expm1(gap))}, more than their uncertainties allow, and no coating changes that fast: the sources differ, or how they were measured.${beyond ? ' Find out what before using either.' : ''}`,
              }
            : null,
        },
      ];
    }),
  );
}
