/** Lesson: what averages out and what does not? */
import { combineContributions } from '../../budget/combine.js';
import { nextImprovement } from '../../budget/nextImprovement.js';
import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import { standardDeviation } from '../../statistics/summary.js';
import { KNOWN_EXACTLY } from '../../vocabulary.js';
import { show, showSentences, showTable } from '../display.js';
import { type FrozenDisplay, frozenRows } from './coarseDisplay.js';
import { type CoverageLine, coverageByLaps } from './counts.js';
import { budgetEstimate, lapEstimate } from './estimates.js';
import { averagesExercise } from './exercises/averages.js';
import { coverageFigure } from './figures/coverageFigure.js';
import { type LapPart, partsFigure } from './figures/partsFigure.js';
import { runningMeansFigure } from './figures/runningMeansFigure.js';
import { withOwnLaps } from './ownLaps.js';
import { ratioLogs } from './pairs.js';
import { posing } from './pose.js';
import { outOf100, type Prediction, predicting, predictionSentence } from './predict.js';
import { workshops as manyWorkshops, QUIET_BENCH } from './repeat.js';
import { coverageRows } from './told.js';

/** In percent: U of the certificate with its k, and one standard deviation of placing the heads. */
export interface Workshop {
  readonly U: number;
  readonly k: number;
  readonly placement: number;
}

const NOISE = { reference: 0.008, candidate: 0.012 };
const TRUTH = QUIET_BENCH.factor;
const LAPS = [5, 10, 20, 40];

export const predict = predicting('of 100');

const stayingIn = ({ U, k, placement }: Workshop) => ({
  certificate: U / k / 100,
  placement: placement / 100,
});

const workshops = (workshop: Workshop, laps: number, times: number) =>
  manyWorkshops({
    bench: { ...QUIET_BENCH, noise: NOISE, laps },
    staying: stayingIn(workshop),
    times,
    seed: laps,
  });

/** The mean of the laps so far in each of several workshops. */
export function settle(workshop: Workshop, times: number): void {
  const { certificate, placement } = stayingIn(workshop);
  showSentences([
    `Invented: true factor ${TRUTH}; the certificate states U = ${workshop.U} % with k = ${workshop.k}, so u = ${formatRelative(certificate)} %; placement u = ${workshop.placement} %; one lap scatters by ${formatRelative(Math.hypot(NOISE.reference, NOISE.candidate))} %.`,
  ]);
  const staying = Math.hypot(certificate, placement);
  show(runningMeansFigure(workshops(workshop, 60, times), { truth: TRUTH, staying }));
}

/** Intervals from the scatter of the laps alone, and from everything; beside the prediction. */
export function count(prediction: Prediction | null, workshop: Workshop): readonly CoverageLine[] {
  const staying = Object.values(stayingIn(workshop));
  const lines = coverageByLaps({
    laps: LAPS,
    series: (laps) => workshops(workshop, laps, 1000),
    ways: [
      { name: 'scatter alone', estimate: (logs) => lapEstimate(logs) },
      { name: 'whole budget', estimate: (logs) => budgetEstimate(logs, staying) },
    ],
    truth: TRUTH,
  });
  const { coverage } = lines[0]!.points.at(-1)!;
  showSentences([
    predictionSentence(prediction, {
      ...outOf100(coverage),
      within: 4,
      thoughts: [
        [95, 'Student keeps that promise about the scatter, and about nothing else.'],
        [100, 'More laps make the interval narrow, not right.'],
      ],
    }),
  ]);
  showTable(coverageRows(lines));
  return lines;
}

/** The same as a picture. */
export function picture(lines: readonly CoverageLine[]): void {
  show(coverageFigure(lines));
}

function partsOf(workshop: Workshop): readonly LapPart[] {
  const { certificate, placement } = stayingIn(workshop);
  return [
    { name: 'scatter of laps', u: Math.hypot(NOISE.reference, NOISE.candidate), averages: true },
    { name: 'certificate of the reference', u: certificate, averages: false },
    { name: 'placement', u: placement, averages: false },
  ];
}

/** Each contribution against the number of laps. */
export function parts(workshop: Workshop): void {
  show(partsFigure(partsOf(workshop)));
}

/** What the mean of a thousand readings keeps of a display's step. */
export function frozen(display: Pick<FrozenDisplay, 'level_mW' | 'step_mW'>): void {
  showSentences([
    `Invented: an endlessly fine display would show ${display.level_mW} mW; this one has steps of ${display.step_mW} mW.`,
  ]);
  showTable(frozenRows({ ...display, readings: 1000, seed: 1 }, [0.05, 0.1, 0.2, 0.3, 0.5, 1]));
}

/** The budget of a workshop after so many laps, and what the next step would bring. */
export function next(workshop: Workshop, laps: number): void {
  const inputs = partsOf(workshop).map(({ name, u, averages }) => ({
    name,
    relative_standard_uncertainty: averages ? u / Math.sqrt(laps) : u,
    // Evaluated from repeated readings: type A; from a certificate or from experience: type B.
    type: averages ? ('A' as const) : ('B' as const),
    dof: averages ? laps - 1 : KNOWN_EXACTLY,
    note: 'invented',
  }));
  const { budget } = combineContributions(inputs, { confidence: 0.95 });
  showTable(
    budget.map((one) => ({
      Contribution: one.name,
      Type: one.type,
      'u in %': formatRelative(one.relative_standard_uncertainty),
      'Share of the variance in %': formatNumber(one.share, { as: 'percent', unit: '', digits: 2 }),
    })),
  );
  const { sentence, steps } = nextImprovement({ budget, confidence: 0.95, laps });
  showSentences([sentence, ...steps.slice(1).map((step) => step.advice)]);
}

export const exercise = posing(averagesExercise);

/** What laps still bring for the reader's own, beside what stays. */
export async function own(source: string, stays: Workshop): Promise<void> {
  await withOwnLaps(source, 3, (laps) => {
    const logs = ratioLogs(laps);
    const s = standardDeviation(logs);
    const { certificate, placement } = stayingIn(stays);
    const staying = Math.hypot(certificate, placement);
    const a = s / Math.sqrt(logs.length);
    const equal = Math.max(1, Math.ceil((s / staying) ** 2));
    showSentences([
      `One lap scatters by ${formatRelative(s)} %, so ${logs.length} laps leave ${formatRelative(a)} % (type A); what stays is ${formatRelative(staying)} % (type B); together u = ${formatRelative(Math.hypot(a, staying))} %.`,
      s === 0
        ? 'The laps do not scatter at all: a frozen display hides what a mean could find.'
        : `${equal === 1 ? 'A single lap scatters' : `The mean of ${equal} laps scatters`} no more than what stays; with ${9 * equal} laps the scatter is at most a third of it, and further laps hardly matter.`,
      'Not shown by this: whether the certificate and the placement are as good as stated. No lap of the same series tells: another reference and a second placement do.',
    ]);
  });
}
