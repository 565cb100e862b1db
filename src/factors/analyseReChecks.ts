/** The factors of several studies, wavelength by wavelength, on a control chart. */

import { commonToAll, sameName, sharedReference } from '../opinions/sharedReference.js';
import { type DatedFactor, withoutCommon } from '../opinions/withoutCommon.js';
import { coverageFactor } from '../statistics/distributions.js';
import { sentences } from '../statistics/sentences.js';
import { requireList } from '../statistics/shapes.js';
import type { Factors, Interval, ReCheck, ReChecks, Result, Warning } from '../vocabulary.js';
import { atWavelength } from '../wavelengths/atWavelength.js';
import { changeOfFactor } from './analyseThenAndNow.js';
import { controlChart, FEWEST_FOR_SCATTER } from './controlChart.js';
import {
  type ComparedFactors,
  factorsToCompare,
  inTimeOrder,
  otherKind,
  type ResultToCompare,
  sameData,
} from './factorsToCompare.js';

/** What is needed of the latest result. */
export type ResultToChart = ResultToCompare & Pick<Result, 'title'>;

const UNDATED = 'Not every study has a date: they stand in the order in which they were given.';

/** Fewer values set no limits. */
const FEWEST = 3;

/** One study on its way to the chart of a wavelength. */
interface Candidate {
  readonly title: string;
  readonly set: ComparedFactors;
  readonly value: DatedFactor | null;
  /** Why it is not on the chart; empty when it is. */
  readonly obstacle: string;
}

/**
 * Do the factors of a candidate stay where they were? At each wavelength all studies go on one
 * control chart of ln K, with limits from their scatter and limits from their uncertainties.
 *
 * What all values owe to the calibration of the reference is left out when all name the same
 * reference and state the same uncertainty. Factors of another candidate than the latest, and data
 * that come a second time, are not on the chart.
 *
 * @param earlier factors.json of the earlier studies; where all studies have a date they are put in the
 *   order of time, else they are taken as given, oldest first
 * @param latest result or factors.json of the latest study
 * @returns one entry a wavelength of any of the studies, ascending; below three values at a
 *   wavelength the numbers of its chart are `null`, and `why` says so
 */
export function chartFactors(
  earlier: readonly Factors[],
  latest: ResultToChart | Factors,
): readonly ReChecks[] {
  requireList(earlier, 'The earlier factors');
  const studies = inTimeOrder([...earlier, latest]);
  const sets = studies.map(factorsToCompare);
  const wavelengths: number[] = [];
  for (const { entries } of [...sets].reverse()) {
    for (const { wavelength_nm: nm } of entries) {
      const known = wavelengths.map((one) => ({ wavelength_nm: one }));
      if (atWavelength(known, nm) === undefined) wavelengths.push(nm);
    }
  }
  const newest = factorsToCompare(latest);
  const obstacles = sets.map((set, place) => obstacleTo(set, sets, place, newest));
  return wavelengths
    .sort((a, b) => a - b)
    .map((nm) =>
      chartAt(
        nm,
        sets.map((set, i) => ({
          title: studies[i].title,
          set,
          value: atWavelength(set.entries, nm)?.value ?? null,
          obstacle: obstacles[i],
        })),
        latest,
        studies.every(({ date }) => date !== null),
      ),
    );
}

/** The same of an analysis, `null` below two earlier studies, and what the reader has to know. */
export function analyseReChecks(
  earlier: readonly Factors[],
  result: ResultToChart,
): { readonly result: readonly ReChecks[] | null; readonly warnings: readonly Warning[] } {
  if (earlier.length < FEWEST - 1) return { result: null, warnings: [] };
  const found = chartFactors(earlier, result);
  return {
    result: found,
    warnings: found.flatMap(warningOf),
  };
}

/** Few values show a steady creep by their ends before the chart does. */
function warningOf(chart: ReChecks): readonly Warning[] {
  const place = `At ${chart.wavelength_nm} nm`;
  if (chart.in_control === false) {
    return [
      {
        code: 're-checks-out-of-control',
        message: `${place} the re-checks of the factor are out of control. ${chart.why}`,
      },
    ];
  }
  if (chart.centre === null || chart.since_first?.verdict !== 'moved') return [];
  return [
    {
      code: 'factor-moved-since-first',
      message: `${place} no rule of the chart is broken, and yet the factor has moved between the first re-check and the last. ${chart.since_first.why}`,
    },
  ];
}

function obstacleTo(
  set: ComparedFactors,
  sets: readonly ComparedFactors[],
  place: number,
  latest: ComparedFactors,
): string {
  if (!sameName(set.candidate, latest.candidate)) {
    return `The factor is that of another candidate ("${set.candidate}").`;
  }
  // Of data that come twice the later place counts, so that the latest study is always there.
  const again = sets.slice(place + 1).some((other) => sameData(other, set));
  if (again) return 'The same data come once more further on, and count there.';
  return otherKind(set.reading, latest.reading);
}

function chartAt(
  nm: number,
  all: readonly Candidate[],
  latest: Pick<Factors, 'confidence' | 'tolerance_percent'>,
  dated: boolean,
): ReChecks {
  const on = all.flatMap(({ set, value, obstacle }) =>
    value === null || obstacle !== '' ? [] : [{ set, value }],
  );
  const shared = on.length === 0 ? null : sharedReference(on.map(({ set }) => set.reference));
  const factors = on.map(({ value }) => value);
  const common = shared === null ? null : commonToAll(shared, factors);
  const chart = chartOf(factors, common ?? 0);
  const same = shared?.same ?? false;
  const [first, last] = [factors[0], factors[factors.length - 1]];
  return {
    wavelength_nm: nm,
    values: valuesOf(all, chart, common ?? 0, latest.confidence),
    same_reference: same,
    common_relative_standard_uncertainty: common,
    ...chart.numbers,
    since_first:
      factors.length < 2 ? null : changeOfFactor(nm, first, last, { same, common, later: latest }),
    why: sentences([chart.why, basis(factors.length, same, common), dated ? '' : UNDATED]),
  };
}

interface Chart {
  readonly numbers: Pick<
    ReChecks,
    'centre' | 'limits' | 'limits_from_uncertainty' | 'scatter_ratio' | 'in_control'
  >;
  /** Of each value on the chart, in order. */
  readonly signals: readonly ReCheck['signals'][];
  readonly why: string;
}

function chartOf(factors: readonly DatedFactor[], common: number): Chart {
  if (factors.length < FEWEST) {
    return noChart(
      factors,
      `A chart needs ${FEWEST} values at a wavelength; here are ${factors.length}.`,
    );
  }
  const own = factors.map((one) => withoutCommon(one, common).standardUncertainty);
  const uncertain = own.some((u) => u > 0);
  const found = controlChart({
    values: factors.map(({ factor }) => Math.log(factor)),
    ...(uncertain ? { standardUncertainties: own } : {}),
  });
  const limits = ends(found.limits);
  const given = found.limitsFromUncertainty === null ? null : ends(found.limitsFromUncertainty);
  if (![...limits, ...(given ?? [])].every((end) => end > 0 && Number.isFinite(end))) {
    return noChart(factors, 'The values lie so far apart that their limits are no numbers.');
  }
  const judged = uncertain || factors.length >= FEWEST_FOR_SCATTER;
  const [least, most] = [Math.min(...own), Math.max(...own)];
  return {
    numbers: {
      centre: Math.exp(found.centre),
      limits,
      limits_from_uncertainty: given,
      scatter_ratio: found.scatterRatio,
      in_control: judged ? found.inControl : null,
    },
    signals: found.points.map((point) => point.signals),
    why: sentences([
      found.why,
      uncertain ? '' : 'No value has an uncertainty of its own, so there are no limits from it.',
      most > UNEQUAL * least
        ? 'Some values are much surer than others, and the limits treat all alike: look at their intervals.'
        : '',
    ]),
  };
}

/** Uncertainties that differ by more deserve a word, because the chart weighs all values alike. */
const UNEQUAL = 2;

function noChart(factors: readonly DatedFactor[], why: string): Chart {
  return {
    numbers: {
      centre: null,
      limits: null,
      limits_from_uncertainty: null,
      scatter_ratio: null,
      in_control: null,
    },
    signals: factors.map(() => []),
    why,
  };
}

/** From ln K back to K. */
const ends = ([low, high]: Interval): Interval => [Math.exp(low), Math.exp(high)];

function valuesOf(
  all: readonly Candidate[],
  { signals }: Chart,
  common: number,
  confidence: number,
): readonly ReCheck[] {
  let place = 0;
  return all.map(({ title, set, value, obstacle }) => {
    const head = { title, date: set.date, data_sha256: set.data_sha256 };
    if (value === null || obstacle !== '') {
      const why = obstacle || 'This study gives no factor at this wavelength.';
      return {
        ...head,
        factor: null,
        low: null,
        high: null,
        relative_standard_uncertainty: null,
        signals: [],
        why,
      };
    }
    const own = signals[place];
    place += 1;
    const { standardUncertainty: u, dof } = withoutCommon(value, common);
    const spread = Math.exp(coverageFactor(confidence, dof) * u);
    const finite = Number.isFinite(value.factor * spread);
    return {
      ...head,
      factor: value.factor,
      low: finite ? value.factor / spread : null,
      high: finite ? value.factor * spread : null,
      relative_standard_uncertainty: u,
      signals: own,
      why: own.length > 0 ? own.join('; ') : finite ? 'on the chart' : 'its interval has no end',
    };
  });
}

function basis(count: number, same: boolean, common: number | null): string {
  if (count < 2) return '';
  if (!same) {
    return 'Not all lean on the same reference under the same stated uncertainty, so their calibrations count in full.';
  }
  return common === null
    ? 'All lean on the same reference, and nothing of its calibration is left out.'
    : 'The calibration of the reference, common to all, is left out; a drift of the reference itself would look like one of the candidate.';
}
