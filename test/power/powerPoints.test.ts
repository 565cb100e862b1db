import { describe, expect, test } from 'vitest';
import { argumentWrong } from '../../src/error.js';
import { bend, bendByPooledScatter, bendOverall } from '../../src/power/powerBend.js';
import { offset } from '../../src/power/powerOffset.js';
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
const point = (reference: number, candidate: number, nm = 450, u = 0.002): PowerPoint => ({
  id: `${nm}-${reference}`,
  wavelength_nm: nm,
  reference_mean_mW: reference,
  candidate_mean_mW: candidate,
  estimate: {
    id: `${nm}-${reference}`,
    logFactor: Math.log(reference / candidate),
    standardUncertainty: u,
    dof: 6,
  },
});
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

  test('five series at two powers cannot tell an offset', () => {
    const two = [100, 100, 100, 200, 200].map((mW) => point(mW, mW / 1.25 + (mW % 7) / 100));
    expect(bend(two, study).why).toMatch(/An offset of the zero|different/);
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
    expect(bendByPooledScatter([line([100])], [], study).why).toContain('needs 2 series');
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
  });
});

describe('the offset', () => {
  test('needs four series', () => {
    expect(offset(line([100, 200, 400]), study).why).toContain('needs 4 series');
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
});
