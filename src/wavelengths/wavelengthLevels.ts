/** The factor of one wavelength: one level of power, or several and the way between them. */

import { combineContributions } from '../budget/combine.js';
import { type BudgetCoverage, coverageOfBudget } from '../budget/coverageOfBudget.js';
import type { Lacking } from '../budget/nextImprovement.js';
import { percent, significant } from '../findings/formatNumber.js';
import { clusterByPower } from '../power/clusterByPower.js';
import { levelsOf } from '../power/levelsOf.js';
import type { PowerLevel, SeriesAtPower } from '../power/powerLevels.js';
import { type WholeRange, wholeRange } from '../power/wholeRange.js';
import { runsOn } from '../record/meters.js';
import { type BetweenSeries, type CombinedSeries, combineSeries } from '../series/combineSeries.js';
import type { LogFactor } from '../series/seriesMean.js';
import { combineContributed, type Part } from '../statistics/combineIndependent.js';
import { hull, mean } from '../statistics/summary.js';
import type { Contribution, FactorLevel, PowerVerdict } from '../vocabulary.js';
import { rectangular, type ShapedInput, scattered } from './collected.js';
import {
  BETWEEN_SERIES,
  contributions,
  scatterOf,
  type WavelengthInput,
} from './wavelengthBudget.js';
import type { Member } from './wavelengthMembers.js';

/** What a wavelength gives before anything is decided. */
export interface Answer extends LogFactor {
  readonly nm: number;
  readonly members: readonly Member[];
  /** Ends of the interval of ln K. */
  readonly low: number;
  readonly high: number;
  readonly inputs: readonly ShapedInput[];
  readonly budget: readonly Contribution[];
  readonly missing: readonly Lacking[];
  readonly levels: readonly FactorLevel[];
  /** What holds back the level whose factor is known least. */
  readonly leastKnown: LeastKnown;
  readonly byPower: PowerVerdict;
  readonly next: BetweenSeries;
  readonly betweenSd: number;
  /** Standard deviation between series of one power that contradict each other; `null`: they agree. */
  readonly contradiction: number | null;
}

export interface LeastKnown {
  /** Indications of the candidate at that level, mW; `null` where there is no other. */
  readonly candidate_mW: FactorLevel['candidate_mW'] | null;
  readonly members: readonly Member[];
  readonly inputs: readonly ShapedInput[];
  /** Half-width of the interval of its ln K. */
  readonly half: number;
}

/** The series of a wavelength as points on the curve of K against the power. */
export function pointOf({ analysis, estimate }: Member): (SeriesAtPower & { member: Member })[] {
  const range = analysis.result.candidate_range_mW;
  const shown = runsOn(analysis.model?.runs ?? [], 'candidate');
  if (range === null || shown.length === 0) return [];
  return [
    {
      id: estimate.id,
      candidateMean_mW: mean(shown.map((run) => run.reading_mW)),
      candidateRange_mW: range,
      logFactor: estimate.logFactor,
      standardUncertainty: estimate.standardUncertainty,
      dof: estimate.dof,
      member: { analysis, estimate },
    },
  ];
}

/** Series measured at one power, wavelength by wavelength: what the placement shows itself in. */
export const seatings = (members: readonly Member[]) =>
  clusterByPower(members.flatMap(pointOf)).map((level) =>
    level.map(({ member }) => member.estimate),
  );

/** All series at about one power, or too short to tell: one mean. */
export function oneLevel(
  nm: number,
  members: readonly Member[],
  combined: CombinedSeries,
  input: WavelengthInput,
): Answer {
  const { confidence } = input.study;
  const { inputs, missing } = contributions(nm, members, scatterOf(members, combined), input);
  const coverage = coverageOfBudget(inputs, confidence);
  const ranges = members.map(({ analysis }) => analysis.result.candidate_range_mW);
  const candidate_mW = hull(ranges.filter((range) => range !== null));
  const points = members.flatMap(pointOf);
  const centre_mW =
    points.length === 0
      ? Math.sqrt(candidate_mW[0] * candidate_mW[1])
      : Math.exp(mean(points.map((one) => Math.log(one.candidateMean_mW))));
  return {
    nm,
    members,
    logFactor: combined.logFactor,
    low: combined.logFactor + coverage.low,
    high: combined.logFactor + coverage.high,
    ...budgetOf(inputs, coverage, confidence),
    missing,
    leastKnown: { candidate_mW: null, members, inputs, half: coverage.high },
    levels: [
      levelResult(
        { candidate_mW, centre_mW, logFactor: combined.logFactor },
        coverage,
        members,
        inputs,
      ),
    ],
    byPower: {
      verdict: 'one-level',
      p: null,
      offset_mW: null,
      why: 'K was measured at one level of power: whether it changes with the power cannot be told.',
    },
    next: combined.next,
    betweenSd: combined.betweenSd,
    contradiction: contradictionOf(combined),
  };
}

const contradictionOf = ({ contradicts, betweenSd }: CombinedSeries): number | null =>
  contradicts ? betweenSd : null;

function levelResult(
  level: Omit<PowerLevel, keyof Part>,
  coverage: BudgetCoverage,
  members: readonly Member[],
  inputs: readonly ShapedInput[],
  own: FactorLevel['own'] | null = null,
): FactorLevel {
  const placed = (one: ShapedInput) => one.name === SEATING || one.name === BETWEEN_SERIES;
  const placement = Math.hypot(
    ...inputs.filter(placed).map((one) => one.relative_standard_uncertainty),
  );
  return {
    candidate_mW: level.candidate_mW,
    centre_mW: level.centre_mW,
    factor: Math.exp(level.logFactor),
    low: Math.exp(level.logFactor + coverage.low),
    high: Math.exp(level.logFactor + coverage.high),
    relative_standard_uncertainty: coverage.standardUncertainty,
    dof: coverage.dof,
    coverage_factor: coverage.coverageFactor,
    placement_relative_standard_uncertainty: placement,
    rest_dof: restOf(inputs, placed).dof,
    ...(level.correlationWithNext === undefined
      ? {}
      : { placement_correlation_with_next: level.correlationWithNext }),
    own: own ?? ownOf(level.logFactor, coverage),
    series: members.map(({ analysis }) => analysis.result.id),
  };
}

const ownOf = (logFactor: number, coverage: BudgetCoverage): FactorLevel['own'] => ({
  factor: Math.exp(logFactor),
  relative_standard_uncertainty: coverage.standardUncertainty,
  dof: coverage.dof,
  coverage_factor: coverage.coverageFactor,
});

const budgetOf = (
  inputs: readonly ShapedInput[],
  { standardUncertainty, dof }: BudgetCoverage,
  confidence: number,
) => ({
  standardUncertainty,
  dof,
  inputs,
  budget: combineContributions(
    inputs.map(({ shape: _, ...rest }) => rest),
    { confidence },
  ).budget,
});

/** Two or more levels: K goes by the level, and the wavelength's own interval holds for all of them. */
export function severalLevels(
  nm: number,
  members: readonly Member[],
  placement: BetweenSeries,
  input: WavelengthInput,
): Answer {
  const { confidence } = input.study;
  const points = members.flatMap(pointOf);
  const curve = levelsOf(points, placement);
  const levels = curve.levels.map((level) => {
    const own = points.filter((one) => level.series.includes(one.id)).map(({ member }) => member);
    return { level, own, ...budgetOfLevel(nm, level, own, curve.levels.length, input) };
  });
  const shared = levels
    .map(({ rest }) => rest)
    .reduce((a, b) => (b.standardUncertainty > a.standardUncertainty ? b : a));
  const whole = wholeRange(curve, { shared, confidence });
  const low = Math.min(whole.low, ...levels.map((l) => l.level.logFactor + l.coverage.low));
  const high = Math.max(whole.high, ...levels.map((l) => l.level.logFactor + l.coverage.high));
  const logFactor = (low + high) / 2;
  const { inputs, missing } = contributions(nm, members, wholeInputs(whole, levels.length), input);
  const combined = levels.map(({ own }) =>
    combineSeries(
      own.map(({ estimate }) => estimate),
      placement,
    ),
  );
  const contradicting = combined.flatMap((one) => contradictionOf(one) ?? []);
  return {
    nm,
    members,
    logFactor,
    low,
    high,
    ...budgetOf(inputs, coverageOfBudget(inputs, confidence), confidence),
    missing,
    leastKnown: levels
      .map(({ level: { candidate_mW }, own, collected: { inputs }, coverage }) => ({
        candidate_mW,
        members: own,
        inputs,
        half: coverage.high,
      }))
      .reduce((a, b) => (b.half > a.half ? b : a)),
    levels: levels.map(({ level, coverage, own, collected, ownFactor }) =>
      levelResult(level, coverage, own, collected.inputs, ownFactor),
    ),
    byPower: powerVerdict(curve),
    next: placement,
    betweenSd: placement.sd,
    contradiction: contradicting.length === 0 ? null : Math.max(...contradicting),
  };
}

/** What is known of one of several levels, and what would be without the others. */
function budgetOfLevel(
  nm: number,
  level: LevelOfCurve,
  own: readonly Member[],
  count: number,
  input: WavelengthInput,
) {
  const { confidence } = input.study;
  const seating = seatingOf(level, own.length, count);
  const collected = contributions(nm, own, [seating], input);
  const alone = coverageOfBudget(
    collected.inputs.map((one) => (one.name === SEATING ? seatingOf(level.own, 1, 1) : one)),
    confidence,
  );
  return {
    collected,
    coverage: coverageOfBudget(collected.inputs, confidence),
    ownFactor: ownOf(level.own.logFactor, alone),
    rest: restOf(collected.inputs, (one) => one.name === SEATING),
  };
}

type LevelOfCurve = ReturnType<typeof levelsOf>['levels'][number];

/** Everything that is not the scatter and the seating of the level itself. */
function restOf(inputs: readonly ShapedInput[], placed: (one: ShapedInput) => boolean) {
  return combineContributed(inputs.filter((one) => !placed(one)));
}

const SEATING = 'scatter and placement of the level';

const seatingOf = (level: Part, series: number, levels: number): ShapedInput =>
  scattered(
    'between-series',
    SEATING,
    level,
    `${series} series at this power, drawn towards the other ${levels - 1} as far as they agree`,
  );

const wholeInputs = (whole: WholeRange, levels: number): readonly ShapedInput[] => [
  scattered('between-series', SEATING, whole, `the least known of ${levels} levels of power`),
  rectangular(
    'power',
    'change with the power',
    whole.spread / Math.sqrt(3),
    `K changes by ${percent(2 * whole.spread)} over the measured powers; by level it is known better`,
  ),
];

function powerVerdict({
  by_power: { verdict, p },
  offset_mW,
}: ReturnType<typeof levelsOf>): PowerVerdict {
  const differ =
    verdict === 'differ'
      ? 'K differs from level to level beyond what putting the heads up again explains.'
      : 'K is not shown to differ from level to level beyond what putting the heads up again explains; levels that agree are drawn together.';
  const offset =
    offset_mW === null
      ? ''
      : ` The levels show an offset of the candidate of ${significant(offset_mW, 2)} mW, which the factor follows between and beyond them.`;
  return { verdict: verdict ?? 'one-level', p, offset_mW, why: `${differ}${offset}` };
}
