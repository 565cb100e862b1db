/**
 * Seeded random numbers: xoroshiro128+ from pure-rand, and the shapes drawn from it. The same seed
 * gives the same numbers on every machine.
 */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { skipN } from 'pure-rand/utils/skipN';
import { argumentWrong } from '../error.js';

const WARM_UP = 64;

/** Spreads neighbouring seeds over all 32 bits (the finaliser of MurmurHash3, Appleby 2011). */
function scrambled(seed: number): number {
  // Towards zero: rounded down, -1 would come to the same as 0, -2 to the same as 1.
  let x = seed ^ Math.trunc(seed / 2 ** 32);
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return (x ^ (x >>> 16)) | 0;
}

export interface Random {
  /** Uniform on [0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
  /** Whole number from `low` to `high`, both included. */
  integer(low: number, high: number): number;
  /** Student's t with `dof` degrees of freedom (a whole number or not). */
  student(dof: number): number;
  /** Chi-square with `dof` degrees of freedom (a whole number or not). */
  chiSquare(dof: number): number;
}

/** A stream of random numbers. @throws argument-wrong when the seed is not a whole number. */
export function seededRandom(seed: number): Random {
  if (!Number.isSafeInteger(seed)) throw argumentWrong('A seed must be a whole number.', seed);
  const generator = xoroshiro128plus(scrambled(seed));
  // The first numbers after seeding still show the pattern of the seed.
  skipN(generator, WARM_UP);
  let spare: number | null = null;
  const uniform = () => uniformFloat64(generator);
  const normal = () => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    // Box and Muller 1958; 1 - u keeps the logarithm away from zero.
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  // Marsaglia and Tsang 2000, for shapes of one half and above.
  const gamma = (shape: number): number => {
    if (shape < 1) return gamma(shape + 1) * (1 - uniform()) ** (1 / shape);
    const d = shape - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (;;) {
      const x = normal();
      const v = (1 + c * x) ** 3;
      if (v > 0 && Math.log(1 - uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v))
        return d * v;
    }
  };
  return {
    uniform,
    normal,
    integer: (low, high) => uniformInt(generator, low, high),
    student: (dof) => normal() / Math.sqrt((2 * gamma(dof / 2)) / dof),
    chiSquare: (dof) => 2 * gamma(dof / 2),
  };
}
