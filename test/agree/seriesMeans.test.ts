import { describe, expect, test } from 'vitest';
import { analyseAgainstLevel } from '../../src/agree/analyseAgainstLevel.js';
import { analyseAgreement } from '../../src/agree/analyseAgreement.js';
import { analyseSeriesMeans } from '../../src/agree/analyseSeriesMeans.js';
import { levelChanges } from '../../src/agree/levelChanges.js';
import type { SeriesAgainstLevel } from '../../src/agree/seriesAgainstLevel.js';
import type { ComparedSeries, Study } from '../../src/vocabulary.js';
import { near } from '../near.js';

const STUDY = {
  confidence: 0.95,
  limits_multiplier: 2,
  tolerance: 0.05,
} as unknown as Study;

/** Series of laps [reference, candidate] at a wavelength. */
const at = (nm: number, ...laps: (readonly [number, number])[]) =>
  ({
    result: { wavelength_nm: nm },
    laps: laps.map(([reference, candidate]) => ({
      reference: { reading_mW: reference },
      candidate: { reading_mW: candidate },
    })),
  }) as unknown as ComparedSeries;

const none = () => null;

describe('agreement over the study', () => {
  test('in mW, in percent and corrected; a series without laps counts nowhere', () => {
    // −10 mW and −20 mW of 100; K = 1.25 makes 112.5 and 100 of 90 and 80.
    const found = analyseAgreement(
      STUDY,
      [at(520, [100, 90]), at(520), at(520, [100, 80])],
      () => 1.25,
    );
    const close = (value: number) => expect.closeTo(value, 9);
    const sd = 10 / Math.SQRT2;
    expect(found).toMatchObject({
      series: 2,
      laps: 2,
      difference_mW: { mean: close(-15), sd: close(sd) },
      difference_percent: { mean: close(-15), sd: close(sd) },
      limits_mW: { low: close(-15 - 2 * sd), high: close(-15 + 2 * sd) },
      limits_percent: { low: close(-15 - 2 * sd), high: close(-15 + 2 * sd) },
      corrected_difference_percent: { mean: close(6.25), sd: close(1.25 * sd) },
      corrected_limits_percent: { low: close(6.25 - 2.5 * sd), high: close(6.25 + 2.5 * sd) },
      why: '',
    });
  });

  test('percent of the reference of each lap, and all laps counted', () => {
    // 50 → 40 is −20 %, 200 → 190 is −5 %: a mean of −12.5 % in one series, −10 mW throughout
    const found = analyseAgreement(
      STUDY,
      [at(520, [50, 40], [200, 190]), at(520, [100, 90], [100, 90])],
      none,
    );
    expect([found.series, found.laps]).toEqual([2, 4]);
    near(found.difference_mW.mean, -10, 1e-12);
    near(found.difference_percent.mean, -11.25, 1e-9);
    // Means −12.5 and −10: variance 3.125; within (2·7.5²)/2, half of it: √(3.125 + 28.125)
    near(found.difference_percent.sd, Math.sqrt(31.25), 1e-9);
  });

  const one = [100, 90] as const;
  const WITHOUT =
    'After the correction nothing can be given: no wavelength of these series has a factor.';
  const ONE_ONLY =
    'After the correction limits need at least two series with a factor at their wavelength.';
  const FEW = 'Limits of agreement need at least two series.';
  test.each([
    ['no series', [], none, FEW],
    ['one series of one lap', [at(520, one)], none, FEW],
    ['two, and no factor', [at(520, one), at(640, one)], none, WITHOUT],
    [
      'two, one of them with a factor',
      [at(520, one), at(640, one)],
      (nm: number) => (nm === 520 ? 1.1 : null),
      ONE_ONLY,
    ],
    ['two, both with a factor', [at(520, one), at(640, one)], () => 1.1, ''],
  ])('%s: the reason', (_, series, factorAt, why) => {
    expect(analyseAgreement(STUDY, series, factorAt).why).toBe(why);
  });

  test('one series of two laps has a mean, and says that it has no more', () => {
    const found = analyseAgreement(STUDY, [at(520, [100, 90], [100, 92])], () => 1.1);
    expect(found.difference_mW).toEqual({ mean: -9, sd: null, low: null, high: null });
    expect(found.why).toBe(
      'One series cannot show how much the difference varies from series to series.',
    );
  });
});

describe('what the means of the series say', () => {
  test('corrected: only series with a factor whose wavelength has another series', () => {
    const series = [
      at(520, [100, 80]),
      at(520, [100, 81]),
      at(640, [100, 50]),
      at(450, [100, 70]),
      at(450, [100, 71]),
    ];
    const factorAt = (nm: number, shown: number) => (nm === 450 ? null : 100 / shown + nm / 1e6);
    const { equivalence } = analyseSeriesMeans(STUDY, series, factorAt);
    // Ratios 0.8 and 0.81 times K
    const ratios = [0.8 * (1.25 + 0.00052), 0.81 * (100 / 81 + 0.00052)];
    near(equivalence.after.ratio, Math.sqrt(ratios[0]! * ratios[1]!), 1e-9);
    near(equivalence.before.ratio, (0.8 * 0.81 * 0.5 * 0.7 * 0.71) ** 0.2, 1e-9);
    expect(equivalence.before).toMatchObject({
      decision: 'not-shown',
      confidence: 0.9,
      margins: [0.95, 1.05],
    });
    expect(equivalence.before.why).not.toContain('Judged on the same data');
    expect(equivalence.after.why).toContain('Judged on the same data');
  });

  test('the factor is asked for at the geometric mean of what the candidate showed', () => {
    const asked: [number, number][] = [];
    analyseSeriesMeans(STUDY, [at(520, [50, 20], [50, 80]), at(640, [50, 9])], (nm, shown) => {
      asked.push([nm, Number(shown.toFixed(9))]);
      return null;
    });
    expect(asked).toEqual([
      [520, 40],
      [640, 9],
    ]);
  });

  test('the ratio of one lap each, and of several', () => {
    const single = analyseSeriesMeans(STUDY, [at(520, [100, 50]), at(520, [100, 200])], none);
    // Ratios ½ and 2: 1 in the middle, logarithms ± ln 2 with sd √2·ln 2
    const far = Math.exp(2 * Math.SQRT2 * Math.LN2);
    expect(single.ratio_limits).toEqual({
      ratio: expect.closeTo(1, 12),
      low: expect.closeTo(Math.exp(-Math.LN2 * Math.tan(0.475 * Math.PI)), 6),
      high: expect.closeTo(Math.exp(Math.LN2 * Math.tan(0.475 * Math.PI)), 1),
      limits: {
        low: expect.closeTo(1 / far, 9),
        high: expect.closeTo(far, 9),
        low_interval: [expect.any(Number), expect.any(Number)],
        high_interval: [expect.any(Number), expect.any(Number)],
      },
      why: '',
    });
    expect(analyseSeriesMeans(STUDY, [at(520, [100, 50])], none).ratio_limits).toEqual({
      ratio: expect.closeTo(0.5, 12),
      low: null,
      high: null,
      limits: { low: null, high: null, low_interval: [null, null], high_interval: [null, null] },
      why: 'Limits of agreement need at least two series.',
    });
  });

  // Reference and candidate alike, so that the level of a series is its power.
  const level = (...powers: number[]) => powers.map((power) => at(520, [power, power]));
  test.each([
    [level(10, 20, 40), 'A line against the level needs four series; there are 3.', null],
    [level(), 'A line against the level needs four series; there are 0.', null],
    [level(100, 101, 103, 104), 'All series lie at about the same power.', [100, 104]],
    [level(100, 101, 103, 106), 'A meter noisier than the other makes a slope too.', [100, 106]],
  ])('a line against the level: %#', (series, why, range) => {
    const found = analyseSeriesMeans(STUDY, series, none).proportional_bias;
    expect(found.why).toBe(why);
    if (range === null) expect(found.range_mW).toBeNull();
    else {
      near(found.range_mW?.[0], range[0]!, 1e-9);
      near(found.range_mW?.[1], range[1]!, 1e-9);
    }
    expect(found.slope === null).toBe(!why.startsWith('A meter noisier'));
  });

  test('two wavelengths: the slope may be one of colour', () => {
    const mixed = [...level(10, 20, 40), at(640, [80, 80])];
    expect(analyseSeriesMeans(STUDY, mixed, none).proportional_bias.why).toBe(
      'A meter noisier than the other makes a slope too. The series differ in wavelength as well as in power, so a slope may be one of colour.',
    );
  });

  test('a concordance needs three series, and is a side note', () => {
    expect(analyseSeriesMeans(STUDY, level(10, 20), none).concordance).toEqual({
      value: null,
      low: null,
      high: null,
      precision: null,
      accuracy: null,
      why: 'A concordance correlation needs three series; there are 2.',
    });
    const three = [at(520, [1, 2]), at(520, [2, 3]), at(520, [3, 4])];
    expect(analyseSeriesMeans(STUDY, three, none).concordance).toEqual({
      value: expect.closeTo(4 / 7, 12),
      low: null,
      high: null,
      precision: expect.closeTo(1, 12),
      accuracy: expect.closeTo(4 / 7, 12),
      why: expect.stringMatching(/^Fewer than 4 pairs give no interval\. A side note/),
    });
  });

  test('signed ranks of the mean percents: five of one sign, p = 2/2⁵', () => {
    const five = [90, 91, 92, 93, 94].map((shown) => at(520, [100, shown], [100, shown]));
    const found = analyseSeriesMeans(STUDY, five, none).wilcoxon;
    expect(found).toMatchObject({
      series: 5,
      p: expect.closeTo(1 / 16, 12),
      estimate_percent: expect.closeTo(-8, 9),
    });
  });
});

describe('which change with the level is shown', () => {
  const line = (slope: number, half: number) => ({
    intercept: 0,
    slope,
    slope_interval: [slope - half, slope + half] as const,
    slope_p: 0.01,
    residual_sd: 1,
    dof: 6,
    mean_level: 5,
    sum_of_squares: 10,
  });
  const FLAT = line(0, 1);
  const found = (changed: {
    n?: number;
    bias?: ReturnType<typeof line>;
    spread?: ReturnType<typeof line>;
    weighted?: ReturnType<typeof line>;
    noise?: number;
    scale?: 'log' | 'difference';
    range?: readonly [number, number];
    levels?: readonly number[];
    differences?: readonly number[];
  }): SeriesAgainstLevel => {
    const {
      n = 8,
      bias = FLAT,
      spread = FLAT,
      weighted,
      noise = 0,
      scale = 'difference',
    } = changed;
    return {
      lines: { scale, n, confidence: 0.95, range: changed.range ?? [1, 10], bias, spread },
      weighted: weighted === undefined ? null : { bias: weighted, spread },
      levels: changed.levels ?? [1, 10],
      differences: changed.differences ?? [0, 0],
      within_variance: null,
      within_dof: 0,
      harmonic_size: 1,
      slope_of_noise: noise,
    };
  };
  const one = Array.from({ length: 8 }, () => 520);
  const verdict = (changed: Parameters<typeof found>[0], colours: readonly number[] = one) => {
    const { bias_change, spread_change } = levelChanges(found(changed), colours);
    return [bias_change, spread_change];
  };

  test('a bias whose interval lies beyond what noise makes, either way', () => {
    expect(verdict({ bias: line(2, 1) })).toEqual(['shown', 'not-shown']);
    expect(verdict({ bias: line(-2, 1) })).toEqual(['shown', 'not-shown']);
    expect(verdict({ bias: line(1, 1) })).toEqual(['not-shown', 'not-shown']);
    expect(verdict({ bias: line(-1, 1) })).toEqual(['not-shown', 'not-shown']);
    expect(verdict({ bias: line(2, 1), noise: 0.9 })).toEqual(['shown', 'not-shown']);
    expect(verdict({ bias: line(2, 1), noise: 1 })).toEqual(['not-shown', 'not-shown']);
    expect(verdict({ bias: line(-2, 1), noise: 1 })).toEqual(['not-shown', 'not-shown']);
    expect(verdict({ bias: line(-2, 1), noise: 0.9 })).toEqual(['shown', 'not-shown']);
  });

  test('a spread from eight series on; its slope is held against no noise', () => {
    const spread = line(0.5, 0.25);
    expect(verdict({ spread, n: 7 })).toEqual(['not-shown', 'not-computable']);
    expect(verdict({ spread, n: 8, noise: 1 })).toEqual(['not-shown', 'shown']);
    expect(levelChanges(found({ n: 7 }), one).why).toContain('would need 8 series');
    expect(levelChanges(found({ n: 8 }), one).why).toBe(
      'Judged by 8 series: a change that they do not show is not excluded.',
    );
  });

  test('where the spread changes the weighted line judges the bias, with one wavelength', () => {
    const spread = line(0.5, 0.25);
    expect(verdict({ spread, bias: FLAT, weighted: line(2, 1) })).toEqual(['shown', 'shown']);
    expect(verdict({ spread, bias: line(2, 1), weighted: FLAT })).toEqual(['not-shown', 'shown']);
    expect(verdict({ spread, bias: line(2, 1) })).toEqual(['shown', 'shown']);
    // No spread that changes, no weights.
    expect(verdict({ bias: FLAT, weighted: line(2, 1) })).toEqual(['not-shown', 'not-shown']);
  });

  test('what rounding leaves is no change: a billionth of the level, or of a logarithm', () => {
    const tiny = (slope: number) => ({ bias: line(slope, slope / 2), range: [0, 10] as const });
    // Slope times 10 mW against 1e-9 of 10 mW
    expect(verdict(tiny(0.9e-9))[0]).toBe('not-shown');
    expect(verdict(tiny(1.1e-9))[0]).toBe('shown');
    // Against 1e-9 of a logarithm
    const log = (slope: number) => ({ ...tiny(slope), scale: 'log' as const });
    expect(verdict(log(0.9e-10))[0]).toBe('not-shown');
    expect(verdict(log(1.1e-10))[0]).toBe('shown');
    // From 5 to 10 the same slope makes half the change.
    expect(verdict({ ...tiny(1.9e-9), range: [5, 10] })[0]).toBe('not-shown');
    expect(verdict({ ...tiny(2.1e-9), range: [5, 10] })[0]).toBe('shown');
  });

  test('a slope no steeper than a noisier meter makes is named as that', () => {
    const said = (changed: Parameters<typeof found>[0]) => levelChanges(found(changed), one).why;
    const steep = 'no steeper than a noisier meter makes';
    expect(said({ bias: line(2, 1), noise: 1 })).toContain(steep);
    expect(said({ bias: line(2, 1) })).not.toContain(steep);
    expect(said({ bias: FLAT, noise: 1 })).not.toContain(steep);
  });

  describe('with two wavelengths', () => {
    const colours = [520, 520, 520, 640, 640, 640];
    const levels = [1, 2, 3, 11, 12, 13];
    // Within wavelengths exactly 2 per mW, about means that differ by 100.
    const rising = [0, 2, 4, 100, 102, 104];
    // Within wavelengths 1, −2, 1: no slope
    const level = [1, -2, 1, 101, 98, 101];
    const steep = line(2, 1);

    test('shown where the slope stands within them, the same way', () => {
      const inside = { levels, differences: rising };
      expect(verdict({ bias: steep, ...inside }, colours)[0]).toBe('shown');
      expect(verdict({ bias: line(-2, 1), ...inside }, colours)[0]).toBe('confounded');
      expect(levelChanges(found({ bias: steep, ...inside }), colours).why).toContain(
        'within wavelengths the difference changes too',
      );
    });

    test('confounded where it does not', () => {
      const outside = { bias: steep, levels, differences: level };
      expect(verdict(outside, colours)[0]).toBe('confounded');
      expect(levelChanges(found(outside), colours).why).toContain(
        'within wavelengths no change is shown',
      );
    });

    test('not shown over all, shown or not within', () => {
      const words = (differences: readonly number[]) =>
        levelChanges(found({ levels, differences }), colours).why;
      expect(words(rising)).toContain('within wavelengths the difference does change');
      expect(words(level)).toContain('which can also hide a change');
      expect(verdict({ levels, differences: rising }, colours)[0]).toBe('not-shown');
    });

    test('no wavelength at powers half as far apart again, or no degree of freedom', () => {
      const why = (given: readonly number[], nms = colours) =>
        levelChanges(
          found({ bias: steep, levels: given, differences: rising.slice(0, given.length) }),
          nms,
        ).why;
      const untold = 'no wavelength was measured at enough powers';
      expect(why([10, 12, 14.9, 100, 120, 149])).toContain(untold);
      expect(why([10, 12, 15, 100, 120, 149])).not.toContain(untold);
      expect(why([10, 12, 14, 100, 120, 150])).not.toContain(untold);
      // Three series, two means and a slope: none left; four leave one.
      expect(why([1, 3, 9], [520, 520, 640])).toContain(untold);
      expect(why([1, 3, 9, 27], [520, 520, 640, 640])).not.toContain(untold);
    });

    test('on the log scale powers are as far apart as their logarithms say', () => {
      const why = (ratio: number) =>
        levelChanges(
          found({
            bias: steep,
            scale: 'log',
            levels: [5, 5.1, 5 + Math.log(ratio), 7, 7.1, 7.2],
            differences: rising,
          }),
          colours,
        ).why;
      expect(why(1.49)).toContain('at enough powers');
      expect(why(1.51)).not.toContain('at enough powers');
    });

    test('a spread that changes is confounded, and weights nothing', () => {
      const given = {
        spread: line(0.5, 0.25),
        bias: steep,
        weighted: FLAT,
        levels,
        differences: level,
      };
      expect(verdict(given, colours)).toEqual(['confounded', 'confounded']);
    });

    test('the slope within: its interval by t of three degrees of freedom, beyond what noise makes', () => {
      // Centred levels −1, 0, 1 twice: Σx² = 4. Differences b·x plus 1, −2, 1: residuals 12 on 6 − 2 − 1 = 3
      // degrees of freedom, variance 4, standard error 1, t(0.975; 3) = 3.182. Noise: 4 is more than the
      // variance of the levels, 4/4, so a slope of 1: b has to be beyond 4.182.
      const withSlope = (b: number) => level.map((value, i) => value + b * ((i % 3) - 1));
      const shown = (b: number) =>
        verdict({ bias: line(Math.sign(b) * 2, 1), levels, differences: withSlope(b) }, colours)[0];
      expect([4.17, 4.19, -4.17, -4.19].map(shown)).toEqual([
        'confounded',
        'shown',
        'confounded',
        'shown',
      ]);
    });
  });
});

describe('limits against the level', () => {
  const alike = (...powers: number[]) => powers.map((power) => at(520, [power, power]));
  const NOTHING = {
    description: 'not-computable',
    scale: null,
    bias_change: 'not-computable',
    spread_change: 'not-computable',
    bias_slope: { value: null, low: null, high: null, p: null },
    spread_slope: { value: null, low: null, high: null, p: null },
    slope_of_noise: null,
    levels: [],
  };

  test.each([
    [alike(), 'Limits at a level need 4 series; there are 0.'],
    [alike(10), 'Limits at a level need 4 series; there is 1.'],
    [alike(10, 20, 40), 'Limits at a level need 4 series; there are 3.'],
    [
      alike(10, 11, 12, 14.99),
      'The series lie too close together (10 to 15 mW): the highest level should be 1.5 times the lowest.',
    ],
  ])('not to be had: %#', (series, why) => {
    expect(analyseAgainstLevel(STUDY, series)).toEqual({ ...NOTHING, why });
  });

  test('in percent: places, levels and limits by hand', () => {
    // Ratio 0.9 ·(1 ± 0.01) at 10, 20, 40, 80 so that the logarithms lie +, −, −, + about a flat line.
    const e = Math.log(1.01);
    const ratios = [1, -1, -1, 1].map((sign) => Math.log(0.9) + sign * e);
    const series = [10, 20, 40, 80].map((level, i) =>
      at(520, [level * Math.exp(-ratios[i]! / 2), level * Math.exp(ratios[i]! / 2)]),
    );
    const found = analyseAgainstLevel(STUDY, series);
    expect(found).toMatchObject({
      description: 'constant-percent',
      scale: 'percent',
      bias_change: 'not-shown',
      spread_change: 'not-computable',
    });
    expect(found.levels.map(({ place }) => place)).toEqual(['lowest', 'middle', 'highest']);
    for (const [i, level] of [10, Math.sqrt(800), 80].entries()) {
      near(found.levels[i]?.level_mW, level, 1e-9);
    }
    // Four residuals of ± e on two degrees of freedom
    const sd = e * Math.SQRT2;
    for (const one of found.levels) {
      near(one.bias, 100 * (0.9 - 1), 1e-9);
      near(one.low, 100 * (0.9 * Math.exp(-2 * sd) - 1), 1e-9);
      near(one.high, 100 * (0.9 * Math.exp(2 * sd) - 1), 1e-9);
    }
    near(found.bias_slope.value, 0, 1e-12);
    near(found.spread_slope.value, 0, 1e-12);
    // e²·4/2 over the variance of ln 10, ln 20, ln 40, ln 80: 5/3·ln²2
    near(found.slope_of_noise, 1 - Math.sqrt(1 - (2 * e * e) / ((5 / 3) * Math.LN2 ** 2)), 1e-12);
  });

  test('in mW where percent changes with the level and mW does not', () => {
    // Always 1 mW more, ± 0.01: 10 % at 10 mW, 1 % at 80 mW.
    const signs = [1, -1, -1, 1];
    const series = [10, 20, 40, 80].map((level, i) => {
      const half = (1 + 0.01 * signs[i]!) / 2;
      return at(520, [level - half, level + half]);
    });
    const found = analyseAgainstLevel(STUDY, series);
    expect(found).toMatchObject({
      description: 'constant-mW',
      scale: 'mW',
      bias_change: 'not-shown',
    });
    for (const [i, level] of [10, 30, 80].entries()) near(found.levels[i]?.level_mW, level, 1e-9);
    for (const one of found.levels) near(one.bias, 1, 0.02);
  });
});
