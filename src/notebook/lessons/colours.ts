/** Lesson: one factor for all colours? */

import { analyse } from '../../analyse.js';
import { MeterpairError } from '../../error.js';
import { TOLERANCE_BAND } from '../../figures/figure.js';
import { formatNumber, formatRelative } from '../../findings/formatNumber.js';
import { readStudy } from '../../record/readStudy.js';
import { simulateSeries } from '../../simulate/bench.js';
import { type Random, seededRandom } from '../../statistics/random.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import { conformity } from '../../verdict/conformity.js';
import { commonFactor, type WavelengthEstimate } from '../../wavelengths/commonFactor.js';
import { show, showSentences, showTable } from '../display.js';
import { lapLogs, studentFactor } from './estimates.js';
import { levelBand, linesFigure } from './figures/linesFigure.js';
import { levelLine } from './figures/straightLines.js';
import { type Posed, pose, type Typed } from './pose.js';
import { notePrediction, type Prediction, predictionSentence } from './predict.js';
import { QUIET_BENCH } from './repeat.js';
import { told } from './told.js';

/** An invented candidate: its true factor by wavelength in nm, and how restless a lap is, in percent. */
export interface ColourStudy {
  readonly name: string;
  readonly factors: Readonly<Record<number, number>>;
  readonly scatter: number;
  readonly laps: number;
}

const EVENINGS = 1000;

export const predict = (...typed: Typed[]) => notePrediction(typed, 'of 100');

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

const judged = (estimates: readonly WavelengthEstimate[], tolerance: number) =>
  commonFactor(estimates, { tolerance: tolerance / 100, confidence: 0.95, shared: 0 });

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
      x: { title: { text: 'wavelength / nm' } },
      y: { title: { text: 'K off the common one / %' } },
      lines,
      shapes: [levelBand(-tolerance, tolerance, `tolerance of ${tolerance} %`, TOLERANCE_BAND)],
    }),
  );
}

/** How often a test finds a difference, and how often one factor may be used; beside the prediction. */
export function count(
  prediction: Prediction | null,
  studies: readonly ColourStudy[],
  tolerance: number,
): void {
  const found = studies.map((study) => {
    const random = seededRandom(1);
    const all = Array.from({ length: EVENINGS }, () => judged(evening(study, random), tolerance));
    const share = (yes: (one: (typeof all)[number]) => boolean) => {
      const p = (all.filter(yes).length + 1) / (EVENINGS + 2);
      return { of100: 100 * p, error: 100 * Math.sqrt((p * (1 - p)) / EVENINGS) };
    };
    const logs = Object.values(study.factors).map(Math.log);
    const most = Math.max(...logs.map((log) => Math.abs(log - mean(logs))));
    return {
      study,
      most,
      differ: share((one) => (one.p ?? 1) < 0.05),
      serves: share((one) => one.supported),
    };
  });
  const last = found.at(-1);
  if (last !== undefined)
    showSentences([
      predictionSentence(prediction, {
        was: last.differ.of100,
        standardError: last.differ.error,
        unit: 'of 100',
        within: 5,
        thoughts: [
          {
            value: 95,
            say: 'A test promises how seldom it cries wolf, not how often it finds one.',
          },
          {
            value: 100,
            say: 'A difference that is there is found only if the readings are good enough.',
          },
          { value: 5, say: 'That is how often it would find one where there is none.' },
        ],
      }),
    ]);
  showTable(
    found.map(({ study, most, differ, serves }) => ({
      Study: study.name,
      'True factors off their mean by up to %': formatNumber(most, { as: 'percent', digits: 2 }),
      'Test finds a difference, of 100': told(differ.of100, differ.error),
      'One factor shown to serve, of 100': told(serves.of100, serves.error),
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
  const powers = [2, 5, 10, 20, 50, 100, 200, 300];
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
      x: {
        type: 'log',
        title: { text: 'power / mW' },
        tickvals: powers,
        ticktext: powers.map(String),
      },
      y: { title: { text: 'factor K' } },
      lines,
      shapes: [levelLine(plan.factor, 'K without either')],
    }),
  );
}

/** Probability that the true difference is within the tolerance, for several differences found. */
export function risks(
  plan: { readonly u: number; readonly tolerance: number },
  found: readonly number[],
): void {
  showTable(
    found.map((value) => {
      const { probability, zone } = conformity({
        value,
        standardUncertainty: plan.u,
        lowerLimit: -plan.tolerance,
        upperLimit: plan.tolerance,
      });
      return {
        'Difference found in %': value,
        'Risk that it is outside, of 100': formatNumber(100 * (1 - probability), { digits: 2 }),
        'With a guard band of U': zone,
      };
    }),
  );
}

/** The risk of saying "within the tolerance". */
export function exercise(task: {
  readonly difference: number;
  readonly U: number;
  readonly k: number;
  readonly tolerance: number;
}): Posed {
  const { difference, U, k, tolerance } = task;
  const outside = (u: number) => {
    const limits = { lowerLimit: -tolerance, upperLimit: tolerance };
    return (
      100 * (1 - conformity({ value: difference, standardUncertainty: u, ...limits }).probability)
    );
  };
  const right = outside(U / k);
  return pose({
    question: [
      `A meter was found to differ by ${difference} %, with U = ${U} % and k = ${k} (normal distribution). The tolerance is ${tolerance} % to either side.`,
      'Somebody says "within the tolerance". How large is the risk that this is wrong, of 100? One decimal.',
    ],
    right,
    unit: 'of 100',
    within: 0.03,
    why: `the limit is ${formatNumber((tolerance - difference) / (U / k), { digits: 3 })} standard uncertainties away, and that much of a normal distribution lies beyond.`,
    hints: [
      'how many standard uncertainties is it from what was found to the limit?',
      'beyond one standard deviation on one side lie about 16 of 100, beyond two about 2.3.',
    ],
    slips: [
      { value: 100 - right, say: 'that is how often the statement is right.' },
      { value: outside(U), say: 'U was taken for one standard uncertainty; it is k of them.' },
      { value: 2 * right, say: 'both sides were counted; the other limit is far away.' },
      {
        value: 5,
        say: 'five of a hundred is about the interval; the limit is not where the interval ends.',
      },
      { value: 2.5, say: 'that would be if the interval ended at the limit.' },
      { value: 50, say: 'that would be if what was found lay on the limit.' },
    ],
  });
}

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
    const result = analyse(await readStudy(source));
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
      `Readings: the study in ${source}; u holds the whole budget, the tolerance is the study's own.`,
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
