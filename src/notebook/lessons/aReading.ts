/** Lesson: a reading is not the truth. */
import { standardUncertainty, type UncertaintyStatement } from '../../budget/inputs.js';
import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import { formatUncertain, roundUncertain } from '../../findings/formatUncertain.js';
import { seededRandom } from '../../statistics/random.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import { show, showSentences, showTable } from '../display.js';
import { aReadingExercise, type Shown } from './exercises/aReading.js';
import { linesFigure } from './figures/linesFigure.js';
import { withOwnLaps } from './ownLaps.js';
import { posing } from './pose.js';
import { type Prediction, predicting, predictionSentence } from './predict.js';
import { told } from './told.js';

const BEAMS = 2000;

export const predict = predicting('of 100');

/** Powers, all likely alike, that a display shows as this number. */
export function powersShownAs({ step_mW, shows_mW }: Shown, times: number): readonly number[] {
  const random = seededRandom(7);
  return Array.from({ length: times }, () => shows_mW + step_mW * (random.uniform() - 0.5));
}

/** What a display shows of powers that rise: a staircase. */
export function staircase({
  step_mW,
  up_to_mW,
}: {
  readonly step_mW: number;
  readonly up_to_mW: number;
}): void {
  const treads = Array.from({ length: Math.round(up_to_mW / step_mW) + 1 }, (_, i) => i * step_mW);
  const ends = treads.flatMap((at) =>
    [at - step_mW / 2, at + step_mW / 2].map((x) => Math.min(up_to_mW, Math.max(0, x))),
  );
  show(
    linesFigure({
      title: 'What a display shows of powers that rise',
      alt: `A staircase with steps of ${step_mW} mW beside the straight line of a display without steps, up to ${up_to_mW} mW. Each tread reaches half a step to either side of the number shown.`,
      x: ['power / mW'],
      y: ['shown / mW'],
      lines: [
        {
          name: `steps of ${step_mW} mW`,
          as: 'line',
          x: ends,
          y: treads.flatMap((at) => [at, at]),
        },
        { name: 'without steps', as: 'line', x: [0, up_to_mW], y: [0, up_to_mW] },
      ],
    }),
  );
}

/** How many powers lie further from what is shown than so many percent, beside the prediction. */
export function count(
  prediction: Prediction | null,
  shown: Shown & { readonly percent: number },
): void {
  const { shows_mW, percent } = shown;
  const powers = powersShownAs(shown, BEAMS);
  const off = powers.filter((power) => Math.abs(power / shows_mW - 1) > percent / 100).length;
  const p = off / BEAMS;
  const sd = standardDeviation(powers);
  showSentences([
    `${BEAMS} invented beams, all shown as ${shows_mW} mW: ${off} of them are more than ${percent} % away from it.`,
    predictionSentence(prediction, {
      was: 100 * p,
      standardError: 100 * Math.sqrt((p * (1 - p)) / BEAMS),
      unit: 'of 100',
      within: 3,
      thoughts: [
        [
          50,
          'Half of them lie more than half of the half step away, and that is a quarter of the step.',
        ],
        [0, 'The display shows no digit that could tell them apart.'],
        [20, 'That many lie closer than that; the question was about the others.'],
      ],
    }),
    `The standard deviation of the powers around their mean: ${told(sd, sd / Math.sqrt(2 * BEAMS))} mW, which is ${told((100 * sd) / shows_mW, (100 * sd) / shows_mW / Math.sqrt(2 * BEAMS))} % of what is shown. Computed, step/√12: ${formatNumber(standardUncertainty({ shape: 'resolution', step: shown.step_mW }).standard_uncertainty, { digits: 3 })} mW.`,
  ]);
}

/** The standard uncertainty that the step alone leaves, from one step shown to many. */
export function byReading(step_mW: number, shows_mW: readonly number[]): void {
  const u = standardUncertainty({ shape: 'resolution', step: step_mW }).standard_uncertainty;
  showTable(
    shows_mW.map((shown) => ({
      'Shown in mW': shown,
      'May be, in mW': `${formatNumber(shown - step_mW / 2)} to ${formatNumber(shown + step_mW / 2)}`,
      'u of the step in mW': formatNumber(u, { digits: 2 }),
      'u in % of the reading': formatRelative(u / shown),
    })),
  );
}

/** What stands on paper, and the standard uncertainty behind it; all in percent. */
export function statements(list: Readonly<Record<string, UncertaintyStatement>>): void {
  showTable(
    Object.entries(list).map(([name, statement]) => ({
      'On paper': name,
      'Taken as': statement.shape,
      'u in %': formatNumber(standardUncertainty(statement).standard_uncertainty, { digits: 3 }),
    })),
  );
}

/** Values and uncertainties as a calculator shows them, and rounded; in mW. */
export function rounded(list: readonly (readonly [value: number, U: number])[]): void {
  showTable(
    list.map(([value, U]) => ({
      'Calculator: value': String(value),
      'Calculator: U': String(U),
      'As reported': formatUncertain(value, U, { unit: 'mW' }),
    })),
  );
}

export const exercise = posing(aReadingExercise);

/** What the display's step leaves of the reader's own readings of one meter. */
export async function own(source: string, step_mW: number): Promise<void> {
  await withOwnLaps(source, 0, ({ candidate }) => {
    const u = standardUncertainty({ shape: 'resolution', step: step_mW }).standard_uncertainty;
    const [centre, s] = [mean(candidate), standardDeviation(candidate)];
    const { value } = roundUncertain(centre, 2 * u);
    showSentences([
      `${candidate.length} readings between ${formatNumber(Math.min(...candidate))} and ${formatNumber(Math.max(...candidate))} mW, mean ${value} mW as far as a step of ${step_mW} mW lets it be written. The step alone leaves u = ${formatNumber(u, { digits: 2 })} mW, ${formatRelative(u / centre)} % of the mean.`,
      `The readings scatter with s = ${formatNumber(s, { digits: 2 })} mW: ${s < step_mW / 2 ? 'less than half a step, so their mean may be as far off as a single reading.' : 'half a step or more, so their mean finds part of what lies between the steps.'}`,
      'Not shown by this: whether the meter is right. Ten readings of one meter tell about its display and its scatter; how far all of them are off, only a comparison or a certificate can tell.',
    ]);
  });
}
