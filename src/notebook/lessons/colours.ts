/** Lesson: one factor for all colours? */

import { analyse } from '../../analyse.js';
import { MeterpairError } from '../../error.js';
import { TOLERANCE_BAND } from '../../figures/figure.js';
import { levelBand, levelLine } from '../../figures/shapes.js';
import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import { readStudy } from '../../record/readStudy.js';
import { simulateSeries } from '../../simulate/bench.js';
import { seededRandom } from '../../statistics/random.js';
import type { WavelengthEstimate } from '../../wavelengths/commonFactor.js';
import { show, showSentences, showTable } from '../display.js';
import { type ColourStudy, countStudy, evening, judged } from './colourStudies.js';
import { guarded, riskOutside } from './decision.js';
import { lapLogs, studentFactor } from './estimates.js';
import { coloursExercise } from './exercises/colours.js';
import { linesFigure } from './figures/linesFigure.js';
import { posing } from './pose.js';
import { outOf100, type Prediction, predicting, predictionSentence } from './predict.js';
import { ofHundred } from './told.js';

export const predict = predicting('of 100');

/** One evening of each study: the factors with their intervals, and the tolerance around one. */
export function oneEvening(studies: readonly ColourStudy[], tolerance: number): void {
  const shift = (i: number) => 6 * (i - (studies.length - 1) / 2);
  const lines = studies.map((study, i) => {
    const estimates = evening(study, seededRandom(3));
    const common = Math.log(judged(estimates, tolerance).factor ?? 1);
    const off = estimates.map((one) => one.logFactor - common);
    const half = estimates.map((one) => one.standardUncertainty * studentFactor(one.dof + 1));
    const bars = (sign: 1 | -1) =>
      off.map((one, j) => 100 * Math.abs(Math.exp(one + sign * (half[j] ?? 0)) - Math.exp(one)));
    return {
      name: study.name,
      as: 'points' as const,
      x: estimates.map((one) => one.wavelength_nm + shift(i)),
      y: off.map((one) => 100 * Math.expm1(one)),
      bars: { up: bars(1), down: bars(-1) },
    };
  });
  show(
    linesFigure({
      title: 'The factor of each colour against the common one',
      alt: lines
        .map(
          ({ name, y, bars }) =>
            `${name}: ${y.map((one, j) => `${formatNumber(one, { digits: 2 })} % (−${formatNumber(bars.down[j] ?? 0, { digits: 2 })}, +${formatNumber(bars.up[j] ?? 0, { digits: 2 })})`).join(', ')}.`,
        )
        .join(' '),
      x: ['wavelength / nm'],
      y: ['K off the common one / %'],
      lines,
      shapes: [
        levelBand([-tolerance, tolerance], {
          fill: TOLERANCE_BAND,
          name: `tolerance of ${tolerance} %`,
        }),
      ],
    }),
  );
}

/** How often a test finds a difference, and how often one factor may be used; beside the prediction. */
export function count(
  prediction: Prediction | null,
  studies: readonly ColourStudy[],
  tolerance: number,
): void {
  const found = studies.map((study) => countStudy(study, tolerance));
  const last = found.at(-1);
  if (last !== undefined)
    showSentences([
      predictionSentence(prediction, {
        ...outOf100(last.differ),
        within: 5,
        thoughts: [
          [95, 'A test promises how seldom it cries wolf, not how often it finds one.'],
          [100, 'A difference that is there is found only if the readings are good enough.'],
          [5, 'That is how often it would find one where there is none.'],
        ],
      }),
    ]);
  showTable(
    found.map(({ study, most, differ, within }) => ({
      Study: study.name,
      'True factors off their mean by up to %': formatNumber(most, { digits: 2 }),
      'Test finds a difference, of 100': ofHundred(differ),
      'All intervals within the tolerance, of 100': ofHundred(within),
    })),
  );
}

/** The factor against the power for a candidate that is off by the same mW everywhere, or bends. */
export function againstPower(plan: {
  readonly factor: number;
  readonly zero_mW: number;
  readonly bends_from_mW: number;
  readonly bends_percent_per_100_mW: number;
}): void {
  const ticks = [2, 5, 10, 20, 50, 100, 200];
  const powers = [...ticks, 300];
  const shown = (options: Partial<Parameters<typeof simulateSeries>[0]>, level_mW: number) =>
    Math.exp(
      lapLogs(
        simulateSeries({ laps: 1, factor: plan.factor, level_mW, ...options }, seededRandom(1))
          .series,
      )[0] ?? 0,
    );
  const bend = { onset_mW: plan.bends_from_mW, droop_per_mW: plan.bends_percent_per_100_mW / 1e4 };
  const lines = [
    {
      name: `shows ${plan.zero_mW} mW in the dark`,
      y: powers.map((p) => shown({ zero_mW: { candidate: plan.zero_mW } }, p)),
    },
    {
      name: `heats up above ${plan.bends_from_mW} mW`,
      y: powers.map((p) => shown({ heat_sink: bend }, p)),
    },
  ].map((line) => ({ ...line, x: powers }));
  show(
    linesFigure({
      title: 'The factor against the power',
      alt: lines
        .map(
          ({ name, y }) =>
            `${name}: K from ${formatNumber(y[0] ?? null)} at ${powers[0]} mW to ${formatNumber(y.at(-1) ?? null)} at ${powers.at(-1)} mW.`,
        )
        .join(' '),
      x: ['power / mW', { type: 'log', tickvals: ticks, ticktext: ticks.map(String) }],
      y: ['factor K'],
      lines,
      shapes: [levelLine(plan.factor, { width: 2, dash: 'dot', name: 'K without either' })],
    }),
  );
}

/** Probability that the true difference is outside the tolerance, for several differences found. */
export function risks(
  plan: { readonly u: number; readonly tolerance: number },
  found: readonly number[],
): void {
  showTable(
    found.map((value) => {
      const found = { value, u: plan.u, limits: [-plan.tolerance, plan.tolerance] as const };
      const risk = riskOutside(found);
      return {
        'Difference found in %': value,
        'Risk that it is outside, of 100':
          risk < 0.001 ? 'below 0.1' : formatNumber(100 * risk, { digits: 2 }),
        'With a guard band of U': guarded(found),
      };
    }),
  );
}

export const exercise = posing(coloursExercise);

/**
 * Does one factor serve the reader's own colours?
 *
 * @param source folder of a study, or `class`: an invented class with three colours
 */
export async function own(source: string, tolerance: number): Promise<void> {
  if (source.trim() === '' || source.trim() === 'class') {
    const study = {
      name: 'class',
      factors: { 450: 1.14, 532: 1.1, 650: 1.11 },
      scatter: 1.6,
      laps: 10,
    };
    const estimates = evening(study, seededRandom(5));
    showSentences([
      'Readings: an invented class, ten readings of each meter at each of three colours.',
    ]);
    tell(estimates, judged(estimates, tolerance).why);
    return;
  }
  try {
    const study = await readStudy(source);
    const result = analyse(study);
    const estimates = result.wavelengths.flatMap((one) =>
      one.factor === null || one.relative_standard_uncertainty === null
        ? []
        : [
            {
              wavelength_nm: one.wavelength_nm,
              logFactor: Math.log(one.factor),
              standardUncertainty: one.relative_standard_uncertainty,
            },
          ],
    );
    showSentences([
      `Readings: "${study.title}"; u holds the whole budget, the tolerance is the study's own.`,
    ]);
    tell(estimates, result.common_factor.why);
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    showSentences([error.message]);
  }
}

function tell(
  estimates: readonly Pick<
    WavelengthEstimate,
    'wavelength_nm' | 'logFactor' | 'standardUncertainty'
  >[],
  why: string,
): void {
  showTable(
    estimates.map((one) => ({
      'Wavelength in nm': one.wavelength_nm,
      K: formatNumber(Math.exp(one.logFactor)),
      'u in %': formatRelative(one.standardUncertainty),
    })),
  );
  showSentences([
    why,
    'Not shown by this: any colour that was not measured, even between two that were; powers far from those of the evening; and what placing the heads again would change.',
  ]);
}
