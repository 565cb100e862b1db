import { expect, test } from 'vitest';
import { readingParts } from '../../src/factors/readingParts.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';

const found = {
  rest: { standardUncertainty: 0.012, dof: 9 },
  placement: 0.006,
  nextPlacement: { sd: 0.016, dof: 8 },
  scatter: { sd: 0.005, dof: 16 },
  between: 0,
  outside: 0.03,
  colour: 0,
} as Parameters<typeof readingParts>[1];
const taken = { indication_mW: 50, readings: 4, seatings: 4, scatter: null, settling: 0 };
const partsOf = (resolution_mW: number | null, changes: object = {}) =>
  readingParts({ candidate: { resolution_mW } }, found, { ...taken, ...changes });

test('the parts of a corrected reading, by hand, and that each is stated', () => {
  const [exactly, rounding] = [KNOWN_EXACTLY, expect.closeTo(1 / Math.sqrt(12) / 50, 12)];
  expect(partsOf(1)).toEqual([
    { name: 'factor K', standardUncertainty: 0.012, dof: 9, shape: 'student', stated: true },
    // √(0.6² + (1.6/√4)²) % = 1 %
    {
      name: 'placement',
      standardUncertainty: expect.closeTo(0.01, 12),
      dof: 8,
      shape: 'student',
      stated: true,
    },
    {
      name: 'scatter of the reading',
      standardUncertainty: 0.0025,
      dof: 16,
      shape: 'student',
      stated: true,
    },
    ...['display step', 'zero'].map((name) => ({
      name,
      standardUncertainty: rounding,
      dof: exactly,
      shape: 'rectangular',
      stated: true,
    })),
    {
      name: 'power outside the levels',
      standardUncertainty: expect.closeTo(0.03 / Math.sqrt(3), 12),
      dof: exactly,
      shape: 'rectangular',
      stated: true,
    },
  ]);
});

test('a step that nobody stated counts as 0 and says so, and larger scatter of the readings counts', () => {
  const parts = partsOf(null, { scatter: { sd: 0.02, dof: 3 }, settling: 0.01 });
  expect(parts.filter(({ stated }) => !stated).map(({ name }) => name)).toEqual([
    'display step',
    'zero',
  ]);
  expect(parts.find(({ name }) => name === 'scatter of the reading')).toMatchObject({
    standardUncertainty: 0.01,
    dof: 3,
  });
  expect(parts.find(({ name }) => name === 'settling')?.standardUncertainty).toBeCloseTo(0.01, 12);
});
