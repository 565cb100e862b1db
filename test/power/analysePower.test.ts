import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { analysePower, decidingBend } from '../../src/power/analysePower.js';
import { bend, bendByPooledScatter, bendOverall } from '../../src/power/powerBend.js';
import { NO_OFFSET, offset } from '../../src/power/powerOffset.js';
import { pointOf } from '../../src/power/powerPoints.js';
import { readStudy } from '../../src/record/readStudy.js';
import type { PowerBend, PowerDependence, Result } from '../../src/vocabulary.js';
import { analysed, chapterOf } from '../analysed.js';
import { near, nearly } from '../near.js';
import { notFinite, type PlannedSeries, steady, studyOf } from '../seriesStudy.js';
import { fromR } from './lines/fixtures.js';

const powerOf = (series: readonly PlannedSeries[]) => analyse(studyOf(series)).power;

test('the bend of twelve series is that of R', () => {
  // test/fixtures/lines.R, bendInterval: invented ratios, bending by a few percent, with an offset
  const powers = [20, 50, 100, 200, 350, 500, 700, 900, 1200, 1500, 1750, 2000];
  const ratio = [
    0.802, 0.797, 0.803, 0.799, 0.794, 0.795, 0.791, 0.786, 0.781, 0.774, 0.772, 0.764,
  ];
  const { by_wavelength } = powerOf(
    powers.map((p, i) => ({ id: `s${p}`, nm: 450, laps: steady(p, p * ratio[i]) })),
  );
  const { bend, offset, range_mW } = by_wavelength[0];
  const [percent, low, high] = fromR.bendInterval;
  nearly(bend.at_top_percent, percent, 1e-7);
  nearly(bend.low_percent, low, 1e-7);
  nearly(bend.high_percent, high, 1e-7);
  expect([bend.verdict, bend.top_mW]).toEqual(['reads-low-at-the-top', 2000]);
  expect(range_mW).toEqual([20, 2000]);
  expect(offset.verdict).not.toBe('not-computable');
});

test('errors of series left out are those of a calculation by hand', () => {
  // Factors 1.2, 1.25, 1.5 at 450 nm. Leaving out a: √(1.25·1.5)/1.2 − 1 = 14.109 %; b:
  // √(1.2·1.5)/1.25 − 1 = 7.331 %; c: √(1.2·1.25)/1.5 − 1 = −18.350 %; RMS 14.018 %
  const { by_wavelength, overall } = powerOf([
    { id: 'a', nm: 450, laps: steady(120, 100) },
    { id: 'b', nm: 450, laps: steady(50, 40) },
    { id: 'c', nm: 450, laps: steady(15, 10) },
    { id: 'd', nm: 638, laps: steady(11, 10) },
  ]);
  const errors = by_wavelength[0].prediction.series.map((one) => one.error_percent);
  [14.109, 7.331, -18.35].forEach((expected, i) => {
    near(errors[i], expected, 0.0005);
  });
  near(by_wavelength[0].prediction.rms_error_percent, 14.018, 0.001);
  near(overall.prediction.rms_error_percent, 14.018, 0.001);
  expect(overall.prediction.predicted).toBe(3);
  expect(overall.prediction.series[3]).toMatchObject({ id: 'd', error_percent: null });
  expect(overall.prediction.why).toMatch(/1 of 4.*What the reference itself is off/);
});

test('an offset of the zero shows as one', () => {
  // reference = 2 + 1.25 · candidate, exactly
  const { offset } = powerOf(
    [10, 50, 100, 400, 800].map((c) => ({ id: `s${c}`, nm: 450, laps: steady(2 + 1.25 * c, c) })),
  ).by_wavelength[0];
  expect(offset.verdict).toBe('offset-shown');
  near(offset.offset_mW, 2, 1e-6);
  near(offset.factor, 1.25, 1e-8);
});

test('more laps of a series count for nothing where the series are the unit', () => {
  const bendOf = (laps: number) =>
    powerOf(
      [200, 600, 1800].map((p, i) => ({
        id: `s${p}`,
        nm: 450,
        laps: steady(p, [180, 545, 1590][i], laps),
      })),
    ).by_wavelength[0].bend;
  const [few, many] = [bendOf(4), bendOf(12)];
  expect(few.dof).toBe(1);
  expect(many.dof).toBe(1);
  nearly(many.p, few.p ?? 0, 1e-6);
});

describe('the workshop evening, of which the truth is known', () => {
  let result: Result;
  let blue: PowerDependence;
  beforeAll(async () => {
    const folder = new URL('../../data-demo/1-workshop-evening', import.meta.url);
    result = analyse(await readStudy(fileURLToPath(folder)));
    blue = result.power.by_wavelength.find((one) => one.wavelength_nm === 450) as PowerDependence;
  });

  test('four series alone cannot show the heat sink, and do not pretend to', () => {
    // The candidate truly reads 3.5 % low at the highest power (data-demo/1-workshop-evening/README.md)
    expect(blue.bend.verdict).toBe('not-shown');
    expect(blue.bend.low_percent).toBeLessThan(-3.5);
    expect(blue.bend.high_percent).toBeGreaterThan(-3.5);
    expect(blue.bend.why).toContain('4 series alone');
  });

  test('the scatter between series that the rest of the study shows can', () => {
    const bend = blue.bend_by_pooled_scatter;
    expect(bend.verdict).toBe('reads-low-at-the-top');
    expect(bend.low_percent).toBeLessThan(-3.5);
    expect(bend.high_percent).toBeGreaterThan(-3.5);
    expect(bend.high_percent).toBeLessThan(0);
    const warning = result.warnings.find((one) => one.code === 'reads-low-at-the-top');
    expect(warning?.message).toMatch(/450 nm.*weaker than it is/);
  });

  test('too few powers and too narrow a range are said, wavelength by wavelength', () => {
    const infrared = result.power.by_wavelength.find((one) => one.wavelength_nm === 808);
    expect(infrared?.offset).toMatchObject({ verdict: 'not-computable', offset_mW: null });
    expect(infrared?.offset.why).toContain('4 series');
    const green = result.power.by_wavelength.find((one) => one.wavelength_nm === 520);
    expect(green?.bend.verdict).toBe('not-computable');
    expect(green?.bend.why).toContain('too close together');
    const violet = result.power.by_wavelength.find((one) => one.wavelength_nm === 405);
    expect(violet?.bend.why).toContain('there is 1');
    expect(result.power.overall.offset.why).not.toBe('');
  });

  test('four powers hold the offset of the zero that stayed, which they cannot show', () => {
    // The dark reading is 1.1 mW and was written down as 1: 0.1 mW stays in every candidate reading,
    // and 0.1 mW times the factor is missing at zero (README.md of the folder).
    expect(blue.offset.verdict).toBe('offset-not-shown');
    expect(blue.offset.low_mW).toBeLessThan(-0.1 * 1.09);
    expect(blue.offset.high_mW).toBeGreaterThan(0.1 * 1.09);
  });

  test('a series left out at 520 nm is off by no more than its placement explains', () => {
    // True factors of the three series, placement included: 1.12052, 1.13289, 1.12611 (truth.json)
    const green = result.power.by_wavelength.find((one) => one.wavelength_nm === 520);
    const truth = [1.12052, 1.13289, 1.12611];
    const expected = truth.map((own, i) => {
      const others = truth.filter((_, j) => j !== i);
      return 100 * (Math.sqrt(others[0] * others[1]) / own - 1);
    });
    // Noise of reference, candidate, source (twice: two runs a lap) and the 1 mW step at 65 mW, over
    // eight laps; the other two series share it by half. Three times that, and no more.
    const lap = Math.hypot(0.3, 0.6, 0.3, 0.3, 100 / 65 / Math.sqrt(12));
    const sd = (lap / Math.sqrt(8)) * Math.sqrt(1 + 1 / 2);
    green?.prediction.series.forEach((one, i) => {
      near(one.error_percent, expected[i], 3 * sd);
    });
    expect(green?.prediction.predicted).toBe(3);
  });

  test('no number is lost', () => {
    expect(notFinite(result)).toEqual([]);
  });
});

test('a single series says why nothing can be told', () => {
  const { by_wavelength, overall } = powerOf([{ id: 'a', nm: 450, laps: steady(120, 100) }]);
  for (const one of [...by_wavelength, overall]) {
    for (const part of [one.bend, one.bend_by_pooled_scatter, one.offset]) {
      expect(part.verdict).toBe('not-computable');
      expect(part.why).not.toBe('');
    }
    expect(one.prediction.rms_error_percent).toBeNull();
    expect(one.prediction.why).not.toBe('');
    expect(one.prediction.why).not.toContain('What the reference itself is off');
  }
});

test('of two ways to judge a bend the one that shows it counts, low before high', () => {
  const bend = (verdict: PowerBend['verdict']): PowerBend => ({
    verdict,
    at_top_percent: -4,
    low_percent: -6,
    high_percent: -2,
    p: 0.01,
    dof: 3,
    top_mW: 1800,
    why: '',
  });
  const of = (own: PowerBend['verdict'], pooled: PowerBend['verdict']) =>
    decidingBend({ bend: bend(own), bend_by_pooled_scatter: bend(pooled) }).verdict;
  expect(of('not-shown', 'reads-low-at-the-top')).toBe('reads-low-at-the-top');
  expect(of('reads-high-at-the-top', 'reads-low-at-the-top')).toBe('reads-low-at-the-top');
  expect(of('reads-high-at-the-top', 'not-shown')).toBe('reads-high-at-the-top');
  expect(of('not-computable', 'not-shown')).toBe('not-shown');
  expect(of('not-computable', 'not-computable')).toBe('not-computable');
});

describe('each question is asked of the right series', () => {
  const plan: readonly PlannedSeries[] = [
    { id: 'red low', nm: 638, laps: steady(11, 10) },
    { id: 'red high', nm: 638, laps: steady(61, 50) },
    { id: 'green', nm: 520, laps: steady(33, 30) },
    ...[100, 200, 300, 400].map((p, i) => ({
      id: `blue ${p}`,
      nm: 450,
      laps: steady(p, p * [0.8, 0.79, 0.8, 0.7][i]),
    })),
  ];
  const study = studyOf(plan);
  const { series } = chapterOf(study);
  const points = series.flatMap(pointOf);
  const at = (nm: number) => points.filter((one) => one.wavelength_nm === nm);
  const [blue, green, red] = [at(450), at(520), at(638)];
  const { result, warnings } = analysePower(study, series);

  test('a wavelength: its own series, and the scatter that the other ones show', () => {
    expect(result.by_wavelength.map((one) => one.wavelength_nm)).toEqual([450, 520, 638]);
    const { prediction, ...rest } = result.by_wavelength[0];
    expect(rest).toEqual({
      wavelength_nm: 450,
      series: ['blue 100', 'blue 200', 'blue 300', 'blue 400'],
      range_mW: [100, 400],
      bend: bend(blue, study),
      bend_by_pooled_scatter: bendByPooledScatter([blue], [green, red], study),
      offset: offset(blue, study),
    });
    expect(rest.bend_by_pooled_scatter.why).toContain('pooled from repeated series (1 dof)');
    expect(prediction.series.map((one) => one.id)).toEqual(rest.series);
  });

  test('all of them: the bend of those with several series, no offset, every prediction', () => {
    const { prediction, offset: none, ...rest } = result.overall;
    expect(rest).toEqual({
      wavelength_nm: null,
      series: points.map((one) => one.id),
      range_mW: [11, 400],
      bend: bendOverall([blue, red], study),
      bend_by_pooled_scatter: bendByPooledScatter([blue, red], [], study),
    });
    expect(none).toEqual({ ...NO_OFFSET, why: none.why });
    // Factors 1.1 and 1.22: the lower corrected by the higher, and the other way round
    near(prediction.series[0].error_percent, 100 * (1.22 / 1.1 - 1), 1e-9);
    near(prediction.series[1].error_percent, 100 * (1.1 / 1.22 - 1), 1e-9);
    expect(prediction.series[0]).toEqual({
      id: 'red low',
      error_percent: prediction.series[0].error_percent,
      why: '',
    });
    expect([prediction.predicted, prediction.series.length]).toEqual([6, 7]);
    // Reads 10/11 and 50/61 of the truth, 0.8, 0.79, 0.8 and 0.7
    const off = [10 / 11 - 1, 50 / 61 - 1, -0.2, -0.21, -0.2, -0.3];
    near(prediction.uncorrected_rms_error_percent, (100 * Math.hypot(...off)) / Math.sqrt(6), 1e-9);
  });

  test('only what reads low at the top is warned of, with the bend that counts', () => {
    const { at_top_percent: percent } = result.by_wavelength[0].bend_by_pooled_scatter;
    expect(warnings.map((one) => one.code)).toEqual(['reads-low-at-the-top']);
    expect(warnings[0].message).toContain(
      `At 450 nm the candidate reads ${Math.abs(percent as number).toPrecision(2)} % lower at 400 mW`,
    );
    const high = studyOf(
      [100, 200, 400].map((p, i) => ({
        id: `${p}`,
        nm: 450,
        laps: steady(p, p * [0.7, 0.7, 0.8][i]),
      })),
    );
    const turned = analysePower(high, chapterOf(high).series);
    expect(decidingBend(turned.result.by_wavelength[0]).verdict).toBe('reads-high-at-the-top');
    expect(turned.warnings).toEqual([]);
  });

  test('no series with a factor: nothing by wavelength, and no range', () => {
    const none = { value: null, relative_standard_uncertainty: null, dof: null };
    const without = analysed({ factor: { ...analysed().result.factor, ...none } });
    const { result: empty, warnings: said } = analysePower(study, [without]);
    expect([empty.by_wavelength, empty.overall.series, empty.overall.range_mW, said]).toEqual([
      [],
      [],
      null,
      [],
    ]);
  });
});
