import { describe, expect, it } from 'vitest';
import { CLASS_ORDER, classRank, parseLabelClass } from '../../src/hazard/labelClass.js';

describe('the class on a label', () => {
  // Approximate pairs of 21 CFR 1040.10 and IEC 60825-1: I≈1, II≈2, IIIa≈3R, IIIb≈3B, IV≈4
  // (common practice, no source).
  it.each([
    ['I', '1'],
    ['II', '2'],
    ['IIIa', '3R'],
    ['IIIb', '3B'],
    ['IV', '4'],
    ['3R', '3R'],
    ['4', '4'],
  ])('%s stands for class %s', (text, name) => {
    expect(parseLabelClass(text)).toMatchObject({ lowest: name, highest: name });
  });

  it('is read as people type it', () => {
    for (const text of ['3b', ' 3B ', 'Class 3B', 'CLASS 3B LASER PRODUCT', 'class-3b', '3 B']) {
      expect(parseLabelClass(text).name).toBe('3B');
    }
    expect(parseLabelClass('class iiia').name).toBe('IIIa');
  });

  it('stays open where the word leaves it open', () => {
    expect(parseLabelClass('2M')).toMatchObject({ lowest: '2', highest: '3B' });
    expect(parseLabelClass('III')).toMatchObject({ lowest: '3R', highest: '3B' });
    expect(parseLabelClass('3').note).toMatch(/3R or 3B/);
  });

  it('that is none cannot be compared', () => {
    for (const text of ['', 'safe', '5', 'V', '3C']) {
      expect(parseLabelClass(text)).toMatchObject({ name: null, lowest: null, highest: null });
    }
  });

  it('ranks from 1 to 4', () => {
    expect(CLASS_ORDER.map(classRank)).toEqual([0, 1, 2, 3, 4]);
  });
});
