/** Displays, orders and short series where the rules of a series end. */
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { bracketedEffect } from '../../src/series/bracketed.js';
import { coldStarts } from '../../src/series/coldStarts.js';
import { driftModel } from '../../src/series/driftModel.js';
import { outlierFlags } from '../../src/series/outliers.js';
import { modelOf } from '../../src/series/screenSeries.js';
import { seriesFactor } from '../../src/series/seriesFactor.js';
import { seededRandom } from '../../src/statistics/random.js';
import { steadyLaps, studyWith } from '../analyse/studies.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';
import { runsOf } from './runs.js';

const noise = (seed: number, sd: number) => {
  const random = seededRandom(seed);
  return () => 1 + sd * random.normal();
};
/** The candidate shows these numbers one after the other, the reference 50 with a little noise. */
const shows = (...numbers: readonly number[]) => {
  const quiet = noise(5, 0.0005);
  return runsOf('RC'.repeat(12), ({ meter, place }) =>
    meter === 'reference' ? 50 * quiet() : numbers[((place - 1) / 2) % numbers.length]!,
  );
};
const STEPS = { reference: 0.001, candidate: 1 };

describe('what a display leaves open', () => {
  test('is that of the numbers as shown, whatever they were multiplied by afterwards', () => {
    const runs = shows(46, 46, 46, 46, 46, 47);
    const doubled = runs.map((run) => ({ ...run, reading_mW: 2 * run.reading_mW, scale: 2 }));
    const [plain, twice] = [runs, doubled].map(
      (one) => seriesFactor(driftModel(one), STEPS, 0.95)!,
    );
    // Two of twelve at 47: the edge is 1/3 of a step from the mean of 46 1/6
    near(plain!.rounding.candidate, 1 / 3 / (46 + 1 / 6) / Math.sqrt(3), 1e-9);
    // u is no less than what such an interval has at 95 %
    const half = Math.log(plain!.factor.high! / plain!.factor.value!);
    expect(plain!.factor.relative_standard_uncertainty).toBeGreaterThan(half / 2.5);
    near(twice!.rounding.candidate, plain!.rounding.candidate, 1e-12);
    near(twice!.factor.high! / twice!.factor.low!, plain!.factor.high! / plain!.factor.low!, 1e-9);
  });

  test('is no edge between numbers that are two steps apart', () => {
    const { rounding } = seriesFactor(driftModel(shows(46, 46, 46, 46, 46, 48)), STEPS, 0.95)!;
    expect(rounding.candidate).toBeLessThan(0.004);
  });

  test('goes by the scatter of its own meter: of a still one beside a noisy one most of step/√12', () => {
    const noisy = noise(2, 0.02);
    const runs = runsOf('RCCR'.repeat(4), ({ meter }) =>
      meter === 'reference' ? 50 : 46 * noisy(),
    );
    const { rounding } = seriesFactor(driftModel(runs), { reference: 1, candidate: 1 }, 0.95)!;
    // Less than that as far as the fitted drift carries it over its steps
    expect(rounding.reference).toBeLessThan(1 / Math.sqrt(12) / 50 + 1e-6);
    expect(rounding.reference).toBeGreaterThan(0.003);
    expect(rounding.candidate).toBeLessThan(1e-3);
  });
});

test('brackets go by the times of the runs, not by their places', () => {
  // A straight fall in ln, which brackets take out: ln C − ln R = −0.1
  const runs = runsOf(
    'RCRCRCRCR',
    ({ meter, time_s: t }) => 50 * Math.exp(-0.01 * t - (meter === 'candidate' ? 0.1 : 0)),
  );
  const mixed = [4, 1, 7, 0, 8, 3, 5, 2, 6].map((place) => runs[place]!);
  near(bracketedEffect(driftModel(runs))?.effect, -0.1, 1e-9);
  near(bracketedEffect(driftModel(mixed))?.effect, -0.1, 1e-9);
});

test('a first run says on which side of the others it lies', () => {
  const quiet = noise(4, 0.002);
  const found = [0.8, 1.2].map((by) => {
    const runs = runsOf(
      'RCCRRCCRRCCRRCCR',
      ({ meter, place }) => (place === 0 ? by : 1) * (meter === 'reference' ? 50 : 46) * quiet(),
    );
    return coldStarts({ runs }, runs, () => 0).excluded[0]?.reason;
  });
  expect(found[0]).toMatch(/^first run reads (19|20|21) % below .* \(p < 0\.0001\)$/);
  expect(found[1]).toMatch(/^first run reads (19|20|21) % above/);
});

test.each([
  ['two moments', [0, 0, 0, 0, 300, 300, 300, 300]],
  ['one moment but for the first run', [0, 60, 60, 60, 60, 60, 60, 60]],
  ['a clock that tells minutes', [0, 0, 0, 0, 60, 60, 60, 60, 120, 120, 120, 120]],
])('runs at few moments give a factor, and no error: %s', (_, times) => {
  // K = 1.1 by steadyLaps, whose readings scatter by 0.3 %
  const laps = steadyLaps(times.length / 2);
  const [series] = analyse(studyWith([{ id: 'a', laps, times }])).series;
  near(series!.factor.value, 1.1, 0.01);
});

describe('too few runs', () => {
  test('of one meter have no model', () => {
    expect(modelOf(runsOf('RRRRRRRR', () => 50))).toBeNull();
    expect(modelOf(runsOf('RCCR', ({ place }) => (place === 3 ? 0 : 50)))).toBeNull();
  });

  test('six have no outliers, however far one lies', () => {
    const runs = runsOf('RCRCRC', ({ place }) => (place === 2 ? 80 : 50 + place / 100));
    const { fit } = driftModel(runs);
    expect(
      outlierFlags(
        runs,
        fit,
        runs.map(() => 1e-6),
      ),
    ).toEqual([]);
  });

  test('a lap has no drift, in either end of its interval', () => {
    const [lap] = analyse(studyOf([{ id: 'a', nm: 520, laps: [[100, 90]] }])).series;
    expect(lap!.drift.percent_per_run_interval).toEqual([null, null]);
  });
});

test('an open slip withholds the verdict of its series and how many laps it would take', () => {
  const laps = [...steady(100, 90, 7), [100, 9] as const];
  const scattered = laps.map(([r, c], i) => [r + 0.3 * (i % 3), c + 0.2 * (i % 4)] as const);
  const [open] = analyse(studyOf([{ id: 'a', nm: 520, laps: scattered }])).series;
  expect(open).toMatchObject({ verdict: 'inconclusive', further_laps: null });
  const settled = scattered.slice(0, 7);
  const [told] = analyse(studyOf([{ id: 'a', nm: 520, laps: settled }])).series;
  expect(told!.verdict).not.toBe('inconclusive');
});
