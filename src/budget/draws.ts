import { argumentWrong } from '../error.js';
import { requireDof } from '../statistics/effectiveDof.js';
import type { Random } from '../statistics/random.js';
import { requireShape } from '../statistics/shapes.js';

/**
 * What is known about an input, as a distribution (JCGM 101:2008, Table 1).
 *
 * - `normal`: estimate and standard uncertainty (6.4.7)
 * - `student`: mean of readings, s/√n and n − 1 degrees of freedom (6.4.9); needs no large n
 * - `rectangular`, `triangular`, `arcsine`: centre and half-width (6.4.2, 6.4.5, 6.4.6)
 * - `trapezoid`: flat over ± half_width · top_to_base (6.4.4)
 * - `curvilinear-trapezoid`: rectangular whose limits are themselves known to ± limit_doubt (6.4.3)
 */
export type InputDistribution =
  | {
      readonly shape: 'normal';
      readonly value: number;
      readonly standard_uncertainty: number;
    }
  | {
      readonly shape: 'student';
      readonly value: number;
      readonly standard_uncertainty: number;
      readonly dof: number;
    }
  | {
      readonly shape: 'rectangular' | 'triangular' | 'arcsine';
      readonly value: number;
      readonly half_width: number;
    }
  | {
      readonly shape: 'trapezoid';
      readonly value: number;
      readonly half_width: number;
      readonly top_to_base: number;
    }
  | {
      readonly shape: 'curvilinear-trapezoid';
      readonly value: number;
      readonly half_width: number;
      readonly limit_doubt: number;
    };

const SHAPES = [
  'normal',
  'student',
  'rectangular',
  'triangular',
  'arcsine',
  'trapezoid',
  'curvilinear-trapezoid',
];

/** One draw of an input. @throws argument-wrong for widths below zero and ratios out of range */
export function drawFrom(input: InputDistribution, random: Random): () => number {
  const { value } = input;
  requireShape(value, 'The value of an input', 'number');
  if (input.shape === 'normal' || input.shape === 'student') {
    const u = input.standard_uncertainty;
    requireShape(u, 'A standard uncertainty', 'not-negative');
    if (input.shape === 'normal') return () => value + u * random.normal();
    const t = studentDraw(input.dof, random);
    return () => value + u * t();
  }
  requireShape(input.shape, 'The shape of an input', SHAPES);
  const half = input.half_width;
  requireShape(half, 'A half-width', 'not-negative');
  const { uniform } = random;
  switch (input.shape) {
    case 'rectangular':
      return () => value + half * (2 * uniform() - 1);
    case 'triangular':
      return () => value + half * (uniform() + uniform() - 1);
    case 'arcsine':
      return () => value + half * Math.cos(Math.PI * uniform());
    case 'trapezoid': {
      const top = input.top_to_base;
      if (!(top >= 0 && top <= 1)) {
        throw argumentWrong('top_to_base must lie between 0 and 1.', top);
      }
      return () => value + half * ((1 + top) * uniform() + (1 - top) * uniform() - 1);
    }
    case 'curvilinear-trapezoid': {
      const doubt = input.limit_doubt;
      if (!(doubt >= 0 && doubt <= half)) {
        throw argumentWrong('limit_doubt must lie between 0 and the half-width.', doubt);
      }
      return () => value + (half + doubt * (2 * uniform() - 1)) * (2 * uniform() - 1);
    }
  }
}

/** Student's t by the polar method (Bailey 1994): a third of the time of a gamma variate. */
export function studentDraw(dof: number, { uniform }: Random): () => number {
  requireDof(dof);
  const power = -2 / dof;
  return () => {
    for (;;) {
      const a = 2 * uniform() - 1;
      const b = 2 * uniform() - 1;
      const w = a * a + b * b;
      if (w > 0 && w <= 1) return a * Math.sqrt((dof * (w ** power - 1)) / w);
    }
  };
}

/**
 * Lower triangle L with L·Lᵀ = correlation matrix; perfect correlation is allowed.
 *
 * @throws argument-wrong for a matrix that is not a correlation matrix
 */
export function correlationRoot(matrix: readonly (readonly number[])[]): number[][] {
  const n = matrix.length;
  const root = matrix.map(() => new Array<number>(n).fill(0));
  for (let i = 0; i < n; i++) {
    if (matrix[i].length !== n) throw argumentWrong('A correlation matrix must be square.');
    for (let j = 0; j <= i; j++) {
      const r = matrix[i][j];
      if (!(Math.abs(r) <= 1) || r !== matrix[j][i] || (i === j && r !== 1)) {
        throw argumentWrong(
          'A correlation matrix must be symmetric, with 1 on its diagonal and −1 to 1 elsewhere.',
          `row ${i + 1}, column ${j + 1}: ${r}`,
        );
      }
      let rest = r;
      for (let k = 0; k < j; k++) rest -= root[i][k] * root[j][k];
      if (i === j) {
        if (rest < -1e-10) throw argumentWrong('The stated correlations cannot hold together.');
        root[i][i] = Math.sqrt(Math.max(0, rest));
      } else if (root[j][j] > 1e-8) {
        root[i][j] = rest / root[j][j];
      } else if (Math.abs(rest) > 1e-8) {
        throw argumentWrong('The stated correlations cannot hold together.');
      }
    }
  }
  return root;
}
