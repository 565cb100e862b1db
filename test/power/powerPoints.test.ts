import { describe, expect, test } from 'vitest';
import { argumentWrong } from '../../src/error.js';
import { gainOrGainAndOffset } from '../../src/power/lines/gainOrGainAndOffset.js';
import { bend, bendByPooledScatter, bendOverall } from '../../src/power/powerBend.js';
import { NO_OFFSET, offset } from '../../src/power/powerOffset.js';
import {
  type PowerPoint,
  pointOf,
  rangeOf,
  readingsOf,
  spreadWithin,
  tooFew,
  unless,
} from '../../src/power/powerPoints.js';
import { analysed } from '../analysed.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

const study = studyOf([{ id: 'a', nm: 638, laps: steady(110, 100) }]);
const point = (reference: number, candidate: number, nm = 450, u = 0.002, dof = 6): PowerPoint => ({
  id: `${nm}-${reference}`,
  wavelength_nm: nm,
  reference_mean_mW: reference,
  candidate_mean_mW: candidate,
  estimate: {
    id: `${nm}-${reference}`,
    logFactor: Math.log(reference / candidate),
    standardUncertainty: u,
    dof,
  },
});
const NONE = {
  verdict: 'not-computable',
  at_top_percent: null,
  low_percent: null,
  high_percent: null,
  p: null,
  dof: null,
  top_mW: null,
};
/** K = 1.25 at these powers of the reference, but for the last, where the candidate reads low by a part. */
const line = (powers: readonly number[], low = 0, nm = 450) =>
  powers.map((mW, i) => point(mW, (mW / 1.25) * (i === powers.length - 1 ? 1 - low : 1), nm));

describe('one point a series', () => {
  test('the mean of the reference, and the candidate’s as K says: 110 and 110 ÷ 1.1', () => {
    const found = analysed({
      factor: { value: 1.21, relative_standard_uncertainty: 0.01, dof: 4, low: 1, high: 2 },
    });
    const [one] = pointOf(found);
    near(one.reference_mean_mW, 110, 1e-12);
    near(one.candidate_mean_mW, 110 / 1.21, 1e-12);
    expect(one.estimate).toEqual({
      id: 'a',
      logFactor: Math.log(1.21),
      standardUncertainty: 0.01,
      dof: 4,
    });
    expect(one.wavelength_nm).toBe(638);
  });

  test('none without a factor, its uncertainty, or readings', () => {
    const factor = { value: 1.1, relative_standard_uncertainty: 0.01, dof: 4, low: 1, high: 2 };
    for (const without of [
      { value: null },
      { relative_standard_uncertainty: null },
      { dof: null },
    ]) {
      expect(pointOf(analysed({ factor: { ...factor, ...without } }))).toEqual([]);
    }
    expect(pointOf({ ...analysed(), model: null })).toEqual([]);
  });

  test('readings and range are those of the reference and of the candidate', () => {
    const points = [point(20, 10), point(5, 4), point(10, 8)];
    expect(readingsOf(points)).toEqual({ reference_mW: [20, 5, 10], candidate_mW: [10, 4, 8] });
    expect(rangeOf(points)).toEqual([5, 20]);
    expect(rangeOf([])).toBeNull();
  });
});

describe('why powers cannot tell', () => {
  test('too few, or too close: the highest has to be 1.5 times the lowest', () => {
    expect(tooFew(line([10]), 3)).toContain('needs 3 series at different powers; there is 1.');
    expect(tooFew(line([10, 20]), 3)).toContain('there are 2.');
    expect(tooFew(line([10, 12, 14.9]), 3)).toContain('10 to 14.9 mW');
    expect(tooFew(line([10, 12, 15]), 3)).toBe('');
  });

  test('of several wavelengths one that spans enough will do', () => {
    const wide = line([10, 20]);
    const narrow = line([10, 11], 0, 638);
    expect(spreadWithin([narrow, wide], 4)).toBe('');
    expect(spreadWithin([narrow], 2)).toContain('too close');
    expect(spreadWithin([wide], 3)).toContain('needs 3 series');
    expect(spreadWithin([], 0)).toContain('No wavelength has two series');
  });

  test('what a method refuses becomes words, and a fault stays one', () => {
    const none = { why: '' };
    const refuse = () => {
      throw argumentWrong('Too flat.', 1);
    };
    expect(unless('', none, refuse).why).toContain('Too flat.');
    expect(unless('Too few.', none, refuse).why).toBe('Too few.');
    expect(() =>
      unless('', none, () => {
        throw new TypeError('broken');
      }),
    ).toThrow(TypeError);
  });
});

describe('the bend of one wavelength', () => {
  test('needs three series, and an offset is told apart from five on', () => {
    expect(bend(line([10, 20]), study)).toMatchObject({ verdict: 'not-computable', p: null });
    const three = bend(line([100, 200, 400], 0.1), study);
    expect(three.why).toContain('An offset of the zero would look the same.');
    expect(three.why).toContain('Judged by 3 series alone');
    expect(three.dof).toBe(1);
    const six = bend(line([100, 200, 300, 400, 600, 800], 0.1), study);
    expect(six.why).not.toContain('An offset of the zero');
    // Six series less gain, offset and bend
    expect(six.dof).toBe(3);
    expect(six.why).not.toContain('Judged by');
  });

  test.each([
    ['two', [100, 400]],
    ['three too close together', [100, 120, 149]],
  ])('%s series give nothing but the reason', (_, powers) => {
    const { why, ...rest } = bend(line(powers), study);
    expect(rest).toEqual(NONE);
    expect(why).not.toBe('');
  });

  test('an offset is asked about from five series at three powers on', () => {
    const dofOf = (powers: readonly number[]) => {
      const found = bend(
        powers.map((mW, i) => point(mW, (mW / 1.25) * (1 + (i % 3) / 100))),
        study,
      );
      return [found.dof, found.why.includes('An offset of the zero would look the same.')];
    };
    // Series less gain and bend, or less gain, offset and bend
    expect(dofOf([100, 200, 300, 400])).toEqual([2, true]);
    expect(dofOf([100, 100, 100, 200, 200])).toEqual([3, true]);
    expect(dofOf([100, 100, 100, 200, 400])).toEqual([2, false]);
  });

  // Ratio a + b·(power ÷ 400) at 100, 200 and 400 mW by hand: b = Σ(x − x̄)(y − ȳ)/(7/24). t, p and Fieller's
  // ends by SciPy 1.17.1 (stats.t with one degree of freedom, numpy.roots of (b − ra)² = k²·u²(b − ra)).
  test.each([
    [
      [0.8, 0.79, 0.75],
      0.95,
      'not-shown',
      -8.36236933797905,
      -21.7899184,
      7.66389374,
      0.0912578967,
    ],
    [[0.8, 0.8, 0.72], 0.95, 'not-shown', (-100 * 0.8) / 5.88, -55.4285854, 72.779358, 0.212295615],
    [[0.8, 0.8, 0.9], 0.95, 'not-shown', 400 / 21, -44.227055, 217.662054, 0.212295615],
  ] as const)('%j by hand', (ratio, confidence, verdict, percent, low, high, p) => {
    const points = [100, 200, 400].map((mW, i) => point(mW, mW * ratio[i]));
    const found = bend(points, { ...study, confidence });
    expect(found).toMatchObject({ verdict, dof: 1, top_mW: 400 });
    near(found.at_top_percent, percent, 1e-9);
    near(found.low_percent, low, 1e-5);
    near(found.high_percent, high, 1e-5);
    near(found.p, p, 1e-8);
    // p against 1 − confidence
    const at = (level: number) => bend(points, { ...study, confidence: level }).verdict;
    const shown = percent < 0 ? 'reads-low-at-the-top' : 'reads-high-at-the-top';
    expect([at(1 - p - 0.001), at(1 - p + 0.001)]).toEqual([shown, 'not-shown']);
  });

  test('where the gain may be zero the bend has no bounds', () => {
    const found = bend(
      [100, 200, 400].map((mW, i) => point(mW, mW * [0.1, 0.9, 0.2][i])),
      study,
    );
    expect([found.low_percent, found.high_percent]).toEqual([null, null]);
    // x̄ = 7/12, ȳ = 0.4, x − x̄ = −1/3, −1/12 and 5/12: b = (−0.1/3 − 0.9/12 + 0.2·5/12)·24/7
    const b = ((-0.1 / 3 - 0.9 / 12 + 1 / 12) * 24) / 7;
    near(found.at_top_percent, (100 * b) / (0.4 - (b * 7) / 12), 1e-9);
  });
});

describe('the bend against the scatter between series', () => {
  const low = line([100, 200, 400], 0.1);

  test('10 % low at the top stand out of 1 %, which the default is', () => {
    const found = bendByPooledScatter([low], [], study);
    expect(found.verdict).toBe('reads-low-at-the-top');
    expect(found.at_top_percent).toBeLessThan(-5);
    expect(found.why).toContain('a scatter between series of 1 % (the default)');
    expect(found.why).toContain('its heat sink warms');
    expect(found.p).toBeLessThan(0.05);
    // The fewest of 8 of the default and 6 of the series
    expect(found.dof).toBe(6);
    expect([found.low_percent ?? 1, found.high_percent ?? 1].every((one) => one < 0)).toBe(true);
  });

  test('two series, by hand', () => {
    // ln ratio 0 at half the top and −0.08/2 at the top: bend −0.08, of √2·s/½ with s = √(0.002² + 0.01²);
    // t(6) at 95 % is 2.446912 (table); p of t = 2.7735 by SciPy 1.17.1: 2·stats.t.sf(2.7735, 6)
    const pair = [point(500, 500), point(1000, 1000 * Math.exp(-0.04))];
    const u = (Math.SQRT2 * Math.hypot(0.002, 0.01)) / 0.5;
    const {
      why,
      p,
      low_percent: low,
      high_percent: high,
      ...rest
    } = bendByPooledScatter([pair], [], study);
    expect(rest).toEqual({
      verdict: 'reads-low-at-the-top',
      at_top_percent: rest.at_top_percent,
      dof: 6,
      top_mW: 1000,
    });
    near(rest.at_top_percent, 100 * Math.expm1(-0.08), 1e-9);
    near(low, 100 * Math.expm1(-0.08 - 2.446912 * u), 1e-5);
    near(high, 100 * Math.expm1(-0.08 + 2.446912 * u), 1e-5);
    near(p, 0.03227283273582241, 1e-8);
    expect(why).toMatch(/^The readings do not follow one gain\./);
    const at99 = bendByPooledScatter([pair], [], { ...study, confidence: 0.99 });
    expect(at99.verdict).toBe('not-shown');
    // t(6) at 99 %: 3.707428 (table)
    near(at99.low_percent, 100 * Math.expm1(-0.08 - 3.707428 * u), 1e-5);
  });

  test('the fewer degrees of freedom count: 8 of the default, more with other wavelengths', () => {
    const pair = [point(500, 500, 450, 0.002, 20), point(1000, 900, 450, 0.002, 20)];
    const others = [point(100, 100, 638), point(101, 100, 638), point(102, 101, 638)];
    expect(bendByPooledScatter([pair], [], study).dof).toBe(8);
    const pooled = bendByPooledScatter([pair], [others], study);
    expect(pooled.dof).toBe(10);
    expect(pooled.why).toContain('pooled from repeated series (2 dof)');
    const one = [pair[0], { ...pair[1], estimate: { ...pair[1].estimate, dof: 3 } }];
    expect(bendByPooledScatter([one], [others], study).dof).toBe(3);
  });

  test('a scatter of nothing is taken as a millionth', () => {
    const pair = [point(500, 500, 450, 0), point(1000, 990, 450, 0)];
    const found = bendByPooledScatter([pair], [], { ...study, between_series: 0 });
    near(
      found.low_percent,
      100 * Math.expm1(2 * Math.log(0.99) - 2.446912 * Math.SQRT2 * 2e-6),
      1e-8,
    );
  });

  test('every wavelength with a gain of its own', () => {
    const found = bendByPooledScatter([line([100, 200], 0), line([100, 200], 0, 638)], [], study);
    near(found.at_top_percent, 0, 1e-9);
    const apart = [point(100, 90), point(200, 180), point(100, 50, 638), point(300, 150, 638)];
    near(
      bendByPooledScatter([apart.slice(0, 2), apart.slice(2)], [], study).at_top_percent,
      0,
      1e-9,
    );
  });

  test('read high the other way', () => {
    const found = bendByPooledScatter([line([100, 200, 400], -0.1)], [], study);
    expect(found.verdict).toBe('reads-high-at-the-top');
    expect(found.why).toContain('use a factor at the power at which it was measured');
  });

  test('not of 10 %, stated or shown by the other wavelengths', () => {
    const stated = bendByPooledScatter([low], [], { ...study, between_series: 0.1 });
    expect([stated.verdict, stated.dof]).toEqual(['not-shown', 6]);
    expect(stated.why).toContain('10 % (stated in the study)');
    const others = [[point(100, 60, 638), point(100, 100, 638)]];
    expect(bendByPooledScatter([low], others, study).verdict).toBe('not-shown');
  });

  test('nor of series that scatter themselves', () => {
    const noisy = low.map((one) => ({
      ...one,
      estimate: { ...one.estimate, standardUncertainty: 0.1 },
    }));
    expect(bendByPooledScatter([noisy], [], study).verdict).toBe('not-shown');
  });

  test('needs two series at different powers', () => {
    const { why, ...rest } = bendByPooledScatter([line([100])], [], study);
    expect(rest).toEqual(NONE);
    expect(why).toContain('needs 2 series');
    expect(bendByPooledScatter([line([100, 400], 0.1)], [], study).verdict).toBe(
      'reads-low-at-the-top',
    );
  });
});

describe('the bend over all wavelengths', () => {
  test('needs two wavelengths, with a gain for each, and two series more', () => {
    expect(bendOverall([line([100, 200, 400])], study).why).toMatch(/^This needs two wavelengths/);
    const few = bendOverall([line([100, 400]), line([100], 0, 638)], study);
    expect(few.why).toContain('needs 4 series');
    const both = bendOverall([line([100, 200, 400], 0.1), line([100, 200, 400], 0.1, 638)], study);
    expect(both.at_top_percent).toBeLessThan(-5);
    expect(both.why).toContain('judged by the scatter of 6 series');
    // Six series less two gains and a bend
    expect(both.dof).toBe(3);
    const four = bendOverall([line([100, 400], 0.1), line([100, 300], 0.05, 638)], study);
    expect([four.dof, four.top_mW]).toEqual([1, 400]);
    expect(bendOverall([line([100, 400])], study)).toMatchObject(NONE);
  });

  test('at the confidence of the study', () => {
    const made = [line([100, 200, 400], 0.02), line([100, 200, 400], 0.05, 638)];
    const { p } = bendOverall(made, study);
    const at = (confidence: number) => bendOverall(made, { ...study, confidence }).verdict;
    expect(at(1 - (p ?? 0) - 0.001)).toBe('reads-low-at-the-top');
    expect(at(1 - (p ?? 0) + 0.001)).toBe('not-shown');
  });

  test.each([
    [0, 'not-shown'],
    [-0.05, 'reads-low-at-the-top'],
    [0.05, 'reads-high-at-the-top'],
  ])('readings that bend by exactly %d show it without a p', (size, verdict) => {
    const bent = (gain: number, nm: number) =>
      [100, 200, 400].map((mW) => point(mW, gain * mW * Math.exp((size * mW) / 400), nm));
    const found = bendOverall([bent(0.8, 450), bent(0.9, 638)], study);
    expect([found.verdict, found.p, found.dof]).toEqual([verdict, null, 3]);
    near(found.at_top_percent, 100 * Math.expm1(size), 1e-9);
    near(found.low_percent, 100 * Math.expm1(size), 1e-9);
  });
});

describe('the offset', () => {
  test('needs four series', () => {
    const { why, ...rest } = offset(line([100, 200, 400]), study);
    expect({ ...rest, why: '' }).toEqual(NO_OFFSET);
    expect(why).toContain('needs 4 series');
  });

  test('reference = 2 + 1.25 · candidate: 2 mW and 1.25, within the interval', () => {
    const found = offset(
      [10, 50, 100, 400].map((c) => point(2 + 1.25 * c, c)),
      study,
    );
    near(found.offset_mW, 2, 1e-6);
    near(found.factor, 1.25, 1e-8);
    expect(found.low_mW).toBeLessThanOrEqual(2 + 1e-6);
    expect(found.high_mW).toBeGreaterThanOrEqual(2 - 1e-6);
  });

  test('says what the comparison of both lines says, at the confidence of the study', () => {
    const candidate = [10, 50, 100, 400];
    const reference = [14.6, 64, 127.5, 503];
    const found = offset(
      candidate.map((c, i) => point(reference[i], c)),
      { ...study, confidence: 0.9 },
    );
    const said = gainOrGainAndOffset(
      { candidate_mW: candidate, reference_mW: reference },
      { confidence: 0.9 },
    );
    const { offset_mW, factor } = said.gain_and_offset;
    expect(found).toEqual({
      verdict: said.verdict,
      offset_mW: offset_mW.value,
      low_mW: offset_mW.interval?.[0],
      high_mW: offset_mW.interval?.[1],
      factor: factor.value,
      p: said.p,
      why: said.why,
    });
    expect(found.low_mW).toBeLessThan(found.high_mW as number);
  });
});
