import { compatibilityScore } from '../../opinions/secondOpinion.js';
import type { Exercise } from '../lessons/pose.js';

/** A meter with its standard uncertainty and a certificate with U and k, mW. */
export interface ScoreTask {
  readonly ours: number;
  readonly u: number;
  readonly theirs: number;
  readonly U: number;
  readonly k: number;
}

/** How large is ζ? */
export function scoreExercise({ ours, u, theirs, U, k }: ScoreTask): Exercise {
  const found = compatibilityScore({
    ours: { value_mW: ours, standardUncertainty_mW: u },
    theirs: { value_mW: theirs, standardUncertainty_mW: U / k },
  });
  const d = found.difference_mW;
  return {
    question: [
      `A meter shows ${ours} mW with a standard uncertainty of ${u} mW. A certificate says ${theirs} mW with U = ${U} mW, k = ${k}.`,
      'How large is ζ? (No sign needed.)',
    ],
    right: found.zeta ?? 0,
    sign: 'free',
    why: 'U ÷ k is a standard uncertainty, both add as squares, and the difference is divided by the root of their sum.',
    hints: [
      'first make a standard uncertainty of U.',
      'then join both as squares, and divide the difference by the root.',
    ],
    slips: [
      ...(found.en === null
        ? []
        : [[found.en, 'that is E_n, which divides by the expanded uncertainty.'] as const]),
      [d / Math.hypot(u, U), 'U is k standard uncertainties, not one.'],
      [d / u, 'the certificate has an uncertainty too.'],
      [d / (u + U / k), 'the two were added as they are; they add as squares.'],
      [d, 'that is the difference itself.'],
    ],
  };
}
