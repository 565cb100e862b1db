import { describe, expect, test } from 'vitest';
import {
  correlationRoot,
  drawFrom,
  type InputDistribution,
  studentDraw,
} from '../../src/budget/draws.js';
import type { Random } from '../../src/statistics/random.js';

/** Random numbers that are told beforehand. */
const told = (uniforms: readonly number[], normals: readonly number[] = []): Random => {
  const [u, z] = [[...uniforms], [...normals]];
  return {
    uniform: () => u.shift() as number,
    normal: () => z.shift() as number,
  } as unknown as Random;
};
const refused = expect.objectContaining({ code: 'argument-wrong' });

describe('one draw', () => {
  const about7 = { value: 7, half_width: 2 } as const;
  test.each<[InputDistribution, uniforms: readonly number[], drawn: number]>([
    // 7 + 2·(2·¾ − 1)
    [{ shape: 'rectangular', ...about7 }, [0.75], 8],
    [{ shape: 'rectangular', ...about7 }, [0], 5],
    // 7 + 2·(¾ + ½ − 1)
    [{ shape: 'triangular', ...about7 }, [0.75, 0.5], 7.5],
    // 7 + 2·cos(π/3)
    [{ shape: 'arcsine', ...about7 }, [1 / 3], 8],
    // 7 + 2·(1.5·¾ + 0.5·¼ − 1): sums of rectangles of (1 ± β)/2 of the half-width
    [{ shape: 'trapezoid', ...about7, top_to_base: 0.5 }, [0.75, 0.25], 7.5],
    [{ shape: 'trapezoid', ...about7, top_to_base: 0.5 }, [0.25, 0.75], 6.5],
    [{ shape: 'trapezoid', ...about7, top_to_base: 0 }, [0.75, 0.5], 7.5],
    [{ shape: 'trapezoid', ...about7, top_to_base: 1 }, [0.75, 0.5], 8],
    // 7 + (2 + 1·(2·0.75 − 1))·(2·0.9 − 1) = 7 + 2.5·0.8
    [{ shape: 'curvilinear-trapezoid', ...about7, limit_doubt: 1 }, [0.75, 0.9], 9],
    [{ shape: 'curvilinear-trapezoid', ...about7, limit_doubt: 0 }, [0.75, 0.9], 8.6],
    [{ shape: 'curvilinear-trapezoid', ...about7, limit_doubt: 2 }, [0.75, 0.9], 9.4],
    [{ shape: 'normal', value: 7, standard_uncertainty: 2 }, [], 4],
  ])('of %j with %j is %f', (input, uniforms, drawn) => {
    expect(drawFrom(input, told(uniforms, [-1.5]))()).toBeCloseTo(drawn, 12);
  });

  test('of Student: a √(ν (w^(−2/ν) − 1)/w) of the first point inside of the circle, not its centre', () => {
    // (−0.8, 0.8) lies outside, (0, 0) is the centre; (−0.6, 0.2) has w = 0.4: for ν = 2
    // −0.6·√(2·(1/0.4 − 1)/0.4) = −0.6·√7.5, for ν = 1 −0.6·√((1/0.16 − 1)/0.4) = −0.6·√13.125
    const uniforms = [0.1, 0.9, 0.5, 0.5, 0.2, 0.6];
    expect(studentDraw(2, told(uniforms))()).toBeCloseTo(-0.6 * Math.sqrt(7.5), 12);
    expect(studentDraw(1, told(uniforms))()).toBeCloseTo(-0.6 * Math.sqrt(13.125), 12);
    const input = { shape: 'student', value: 7, standard_uncertainty: 2, dof: 2 } as const;
    expect(drawFrom(input, told(uniforms))()).toBeCloseTo(7 - 1.2 * Math.sqrt(7.5), 12);
  });

  test.each<[string, object]>([
    ['a value that is none', { shape: 'normal', value: Number.NaN, standard_uncertainty: 1 }],
    ['u below zero', { shape: 'normal', value: 0, standard_uncertainty: -1 }],
    ['u of Student below zero', { shape: 'student', value: 0, standard_uncertainty: -1, dof: 3 }],
    ['no degrees of freedom', { shape: 'student', value: 0, standard_uncertainty: 1, dof: 0 }],
    ['a width below zero', { shape: 'rectangular', value: 0, half_width: -1 }],
    ['no width', { shape: 'arcsine', value: 0 }],
    ['a shape nobody knows', { shape: 'cosine', value: 0, half_width: 1 }],
    ['no top', { shape: 'trapezoid', value: 0, half_width: 1 }],
    ['a top below zero', { shape: 'trapezoid', value: 0, half_width: 1, top_to_base: -0.01 }],
    ['a top above 1', { shape: 'trapezoid', value: 0, half_width: 1, top_to_base: 1.01 }],
    ['no doubt', { shape: 'curvilinear-trapezoid', value: 0, half_width: 1 }],
    ['doubt below 0', { shape: 'curvilinear-trapezoid', value: 0, half_width: 1, limit_doubt: -1 }],
    ['much doubt', { shape: 'curvilinear-trapezoid', value: 0, half_width: 1, limit_doubt: 1.1 }],
  ])('refuses %s', (_, input) => {
    expect(() => drawFrom(input as InputDistribution, told([0.5, 0.5], [0]))).toThrow(refused);
  });
});

describe('the root of a correlation matrix', () => {
  test('by hand: rows of length 1 whose products are the correlations', () => {
    // 0.6·0.8 + 0.8·0.36 = 0.768; 0.8² + 0.36² + 0.48² = 1
    const root = correlationRoot([
      [1, 0.6, 0.8],
      [0.6, 1, 0.768],
      [0.8, 0.768, 1],
    ]);
    const rows = [
      [1, 0, 0],
      [0.6, 0.8, 0],
      [0.8, 0.36, 0.48],
    ];
    expect(root).toEqual(rows.map((row) => row.map((one) => expect.closeTo(one, 12))));
    expect(correlationRoot([])).toEqual([]);
  });

  test('of two that are one, and a third', () => {
    expect(
      correlationRoot([
        [1, -1, 0.6],
        [-1, 1, -0.6],
        [0.6, -0.6, 1],
      ]),
    ).toEqual([
      [1, 0, 0],
      [-1, 0, 0],
      [0.6, 0, expect.closeTo(0.8, 12)],
    ]);
  });

  test.each([
    ['rows of unequal length', [[1, 0], [0]], undefined],
    [
      'a row too long',
      [
        [1, 0, 0],
        [0, 1],
      ],
      undefined,
    ],
    [
      'what is not symmetric',
      [
        [1, 0.5],
        [0.4, 1],
      ],
      'row 2, column 1: 0.4',
    ],
    [
      'a diagonal that is not 1',
      [
        [1, 0],
        [0, 0.9],
      ],
      'row 2, column 2: 0.9',
    ],
    [
      'more than 1',
      [
        [1, 1.1],
        [1.1, 1],
      ],
      'row 2, column 1: 1.1',
    ],
    [
      'less than −1',
      [
        [1, -1.1],
        [-1.1, 1],
      ],
      'row 2, column 1: -1.1',
    ],
    [
      'what is no number',
      [
        [1, Number.NaN],
        [Number.NaN, 1],
      ],
      'row 2, column 1: NaN',
    ],
    // 1 − 0.81 = 0.19 and −0.81 − 0.81: the third would need more than there is
    [
      'what cannot hold together',
      [
        [1, 0.9, 0.9],
        [0.9, 1, -0.9],
        [0.9, -0.9, 1],
      ],
      undefined,
    ],
    [
      'one of twins in company',
      [
        [1, 1, 0],
        [1, 1, 0.5],
        [0, 0.5, 1],
      ],
      undefined,
    ],
    [
      'one of twins opposed',
      [
        [1, 1, 0],
        [1, 1, -0.5],
        [0, -0.5, 1],
      ],
      undefined,
    ],
  ])('refuses %s', (_, matrix, found) => {
    expect(() => correlationRoot(matrix)).toThrow(
      expect.objectContaining({ code: 'argument-wrong', found }),
    );
  });
});
