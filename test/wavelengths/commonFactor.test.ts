import { describe, expect, test } from 'vitest';
import { commonFactor } from '../../src/wavelengths/commonFactor.js';
import { near } from '../near.js';
import { core } from '../statistics/core.js';

describe('one factor for all colours', () => {
  const at = (nm: number, logFactor: number, u = 0.004, dof = 15) => ({
    wavelength_nm: nm,
    logFactor,
    standardUncertainty: u,
    dof,
  });
  const options = { tolerance: 0.05, confidence: 0.95, shared: 0 };

  test('p is that of R’s Welch test, from means and standard uncertainties', () => {
    const estimates = core('plant.mean').map((mean, i) =>
      at(500 + i, mean / 10, core('plant.u')[i]! / 10, core('plant.n')[i]! - 1),
    );
    near(commonFactor(estimates, options).p, core('plant.welch')[3]!, 1e-9);
  });

  test.each([
    [0.999, 10],
    [0.9999, 1.5],
    [0.99995, 1.1],
  ])('none whose interval has no end, at %f', (confidence, ratio) => {
    // t(1) of these levels is 637, 6366 and 12732; the half-width is that times |ln ratio|/2 or more.
    const found = commonFactor([at(450, 0.1), at(520, 0.1 + Math.log(ratio))], {
      ...options,
      confidence,
    });
    expect(found).toMatchObject({ supported: false, factor: null, low: null, high: null });
    expect(found.p).toBeLessThan(0.05);
    expect(found.why).toMatch(/^2 wavelengths do not tell a common factor at this confidence/);
  });

  test('agreeing factors within the tolerance support one', () => {
    const found = commonFactor([at(450, 0.1), at(520, 0.102), at(650, 0.099)], options);
    expect(found.supported).toBe(true);
    near(found.factor, Math.exp(0.1003), 5e-4);
    expect(found.why).toMatch(/are not shown to differ/);
  });

  test('a difference that is shown, and factors too vague to tell, both refuse it', () => {
    const differ = commonFactor([at(450, 0.1), at(520, 0.14)], options);
    expect(differ).toMatchObject({ supported: false });
    expect(differ.p).toBeLessThan(0.05);
    // Mean 0.12, off by 0.02 and t(15) · 0.004 = 2.1314 · 0.004: e^0.028526 − 1 = 2.9 %
    expect(differ.why).toMatch(/^The factors differ beyond chance, although by less than/);
    expect(
      commonFactor([at(450, 0.1), at(520, 0.14)], { ...options, tolerance: 0.02 }).why,
    ).toMatch(/^The factors differ from wavelength to .* reaches 2\.9 % .* tolerance is 2 %\.$/);
    const vague = commonFactor([at(450, 0.1, 0.05), at(520, 0.11, 0.05)], options);
    expect(vague.p).toBeGreaterThan(0.05);
    expect(vague.supported).toBe(false);
    expect(vague.why).toMatch(/not enough/);
  });

  test('the farthest is named, and the interval is t of the wavelengths about their mean', () => {
    // Of equal uncertainties the mean of 0.1, 0.1 and 0.13 is 0.11; s/√3 = 0.01, t(2) = 4.302653
    const found = commonFactor([at(450, 0.1), at(638, 0.13), at(520, 0.1)], options);
    near(found.factor, Math.exp(0.11), 1e-9);
    near(found.low, Math.exp(0.11 - 0.04302653), 1e-6);
    near(found.high, Math.exp(0.11 + 0.04302653), 1e-6);
    const far = commonFactor([at(450, 0.1), at(638, 0.13), at(520, 0.1)], {
      ...options,
      tolerance: 0.01,
    });
    expect(far.why).toContain('the factor at 638 nm reaches 2.9 %');
  });

  test('the farthest may lie below the mean as well', () => {
    const found = commonFactor([at(450, 0.1), at(638, 0.07), at(520, 0.1)], {
      ...options,
      tolerance: 0.01,
    });
    near(found.factor, Math.exp(0.09), 1e-9);
    expect(found.why).toContain('the factor at 638 nm reaches 2.9 %');
  });

  test('what they share joins as a normal part: √((4.302653 · 0.01)² + (1.959964 · 0.03)²)', () => {
    const found = commonFactor([at(450, 0.1), at(638, 0.13), at(520, 0.1)], {
      ...options,
      shared: 0.03,
    });
    const half = Math.hypot(0.04302653, 1.959964 * 0.03);
    near(found.low, Math.exp(0.11 - half), 1e-6);
    near(found.high, Math.exp(0.11 + half), 1e-6);
  });

  test('each by its own u: the vague one reaches farthest, not the one that lies farthest', () => {
    // 0.1 ± 2.1314·0.02 reaches further than 0.11 ± 2.1314·0.001
    const list = [at(450, 0.1, 0.02), at(638, 0.11, 0.001)];
    expect(commonFactor(list, { ...options, tolerance: 0.01 }).why).toContain('at 450 nm');
    // Half as sure: t(15) at 50 % is 0.6912, and then it does not: 0.0138 + 0.01 against 0.0007
    const { why } = commonFactor(list, { ...options, tolerance: 0.03, confidence: 0.5 });
    expect(why).toMatch(/within the tolerance of 3 %/);
  });

  test('factors that repeat exactly agree, with p = 1', () => {
    const found = commonFactor([at(450, 0.1, 0), at(520, 0.1, 0)], options);
    expect(found).toMatchObject({ supported: true, p: 1 });
    near(found.factor, Math.exp(0.1), 1e-12);
  });

  test('what all wavelengths share widens the interval and decides nothing', () => {
    const list = [at(450, 0.1), at(520, 0.102)];
    const alone = commonFactor(list, options);
    const shared = commonFactor(list, { ...options, shared: 0.03 });
    expect(shared.supported).toBe(alone.supported);
    expect(shared.p).toBe(alone.p);
    expect(shared.high! / shared.low!).toBeGreaterThan(alone.high! / alone.low!);
  });

  test('fewer than two wavelengths say nothing about others', () => {
    const nothing = { supported: false, p: null, factor: null, low: null, high: null };
    expect(commonFactor([at(520, 0.1)], options)).toEqual({
      ...nothing,
      why: 'Only one wavelength was measured: nothing can be said about others.',
    });
    expect(commonFactor([], options)).toEqual({ ...nothing, why: 'No wavelength has a factor.' });
  });
});
