/** Lesson: choosing what to leave out. */
import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import { show, showSentences, showTable } from '../display.js';
import { leavingOutExercise } from './exercises/leavingOut.js';
import { rulesFigure } from './figures/rulesFigure.js';
import {
  type DecidedLap,
  decidedLaps,
  keepAll,
  type RuleCoverage,
  ruleCoverage,
  withoutBeyond,
  withoutFirst,
  withoutFurthest,
  withoutNoted,
} from './leaveOut.js';
import { withOwnLaps } from './ownLaps.js';
import { ratioLogs } from './pairs.js';
import { posing } from './pose.js';
import { outOf100, type Prediction, predicting, predictionSentence } from './predict.js';
import { QUIET_BENCH, repeatSeries } from './repeat.js';
import { cells } from './told.js';

const DAYS = 2000;
const BY_LOOKS = [
  { name: 'nothing', rule: keepAll },
  { name: 'the furthest', rule: withoutFurthest(1) },
  { name: 'the two furthest', rule: withoutFurthest(2) },
  { name: 'all beyond two s', rule: withoutBeyond(2) },
];
const AGREED = [
  { name: 'what has a note', rule: withoutNoted },
  { name: 'the first lap, always', rule: withoutFirst(1) },
];

export const predict = predicting('of 100');

const quietDays = (laps: number) =>
  repeatSeries({ bench: { ...QUIET_BENCH, laps }, times: DAYS, seed: 5 });

const judged = (
  name: string,
  series: readonly (readonly DecidedLap[])[],
  rules: Parameters<typeof ruleCoverage>[0]['rules'],
) => ruleCoverage({ name, series, rules, truth: QUIET_BENCH.factor });

/** Four rules on days when nothing happened, beside the prediction for the two furthest. */
export function count(prediction: Prediction | null, { laps }: { readonly laps: number }): void {
  const quiet = judged('nothing happened', decidedLaps(quietDays(laps)), BY_LOOKS);
  const { coverage } = quiet.rules[2]!;
  showSentences([
    predictionSentence(prediction, {
      ...outOf100(coverage),
      within: 3,
      thoughts: [
        [95, 'Student promises that for laps that nobody has chosen.'],
        [100, 'The laps look tidier; the interval is not.'],
      ],
    }),
  ]);
  showTable(rowsOf([quiet]));
}

/** All rules on three kinds of day. */
export function days(plan: {
  readonly laps: number;
  /** How often the head is knocked, of a hundred laps, and by how many percent it then reads low. */
  readonly knocks: number;
  readonly low: number;
  /** How many percent of its power the source lacks in the first run. */
  readonly cold: number;
}): readonly RuleCoverage[] {
  const list = quietDays(plan.laps);
  const knock = { probability: plan.knocks / 100, change: -plan.low / 100 };
  const cold = repeatSeries({
    bench: { ...QUIET_BENCH, laps: plan.laps, cold_start: { deficit: plan.cold / 100 } },
    times: DAYS,
    seed: 6,
  });
  const rules = [...BY_LOOKS, ...AGREED];
  const found = [
    judged('nothing happened', decidedLaps(list), rules),
    judged('head knocked', decidedLaps(list, { knock, seed: 2 }), rules),
    judged('cold start', decidedLaps(cold), rules),
  ];
  show(rulesFigure(found));
  return found;
}

/** The same in numbers, with what each rule costs in width. */
export function table(found: readonly RuleCoverage[]): void {
  showTable(rowsOf(found));
}

const rowsOf = (found: readonly RuleCoverage[]) =>
  (found[0]?.rules ?? []).map(({ name }, i) => ({
    'Left out': name,
    ...Object.fromEntries(found.flatMap((day) => cells(day.name, day.rules[i]?.coverage))),
  }));

export const exercise = posing(leavingOutExercise);

/** What leaving the furthest lap out would do to the reader's own. */
export async function own(source: string): Promise<void> {
  await withOwnLaps(source, 4, (laps) => {
    const all = ratioLogs(laps).map((log) => ({ log, note: null }));
    const logs = (list: readonly DecidedLap[]) => list.map((lap) => lap.log);
    const kept = withoutFurthest(1)(all);
    const odd = all.findIndex((lap) => !kept.includes(lap));
    const centre = mean(logs(all));
    const s = standardDeviation(logs(all));
    const away = s === 0 ? 0 : Math.abs((all[odd]?.log ?? centre) - centre) / s;
    const chance = 100 * (1 - 0.95 ** all.length);
    showSentences([
      `The lap furthest off is number ${odd + 1}: ${formatNumber(away, { digits: 2 })} standard deviations from the mean. With ${all.length} faultless laps one beyond 1.96 is to be expected on about ${formatNumber(chance, { digits: 2 })} of a hundred days.`,
      `Without it K would move by ${formatRelative(Math.abs(mean(logs(kept)) - centre))} % and s fall from ${formatRelative(s)} to ${formatRelative(standardDeviation(logs(kept)))} %: it looks better, and that is no reason.`,
      'Not shown by this: what happened in that lap. Only a note from the bench says so, and a lap without a note stays.',
    ]);
  });
}
