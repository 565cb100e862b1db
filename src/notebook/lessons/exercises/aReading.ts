import type { Exercise } from '../pose.js';

/** A display: its step, and what it shows, in mW. */
export interface Shown {
  readonly step_mW: number;
  readonly shows_mW: number;
}

/** How well does the step alone let a reading be known? */
export function aReadingExercise({ step_mW, shows_mW }: Shown): Exercise {
  const right = (100 * step_mW) / Math.sqrt(12) / shows_mW;
  return {
    question: [
      `A display with steps of ${step_mW} mW shows ${shows_mW} mW.`,
      'How large is the standard uncertainty that the step alone leaves, in percent of the reading? (No sign needed.)',
    ],
    right,
    unit: '%',
    sign: 'free',
    within: 0.02,
    why: 'the power may lie anywhere within half a step to either side, all alike, and such a rectangle has the standard deviation half step/√3, or step/√12.',
    hints: [
      'how far to either side may the power lie? All places are alike: a rectangle.',
      'the standard deviation of a rectangle is its half-width divided by √3.',
    ],
    slips: [
      [
        (50 * step_mW) / shows_mW,
        'that is the half step, the limit; a standard deviation is smaller.',
      ],
      [(100 * step_mW) / shows_mW, 'that is the whole step.'],
      [
        (100 * step_mW) / Math.sqrt(3) / shows_mW,
        'the whole step was divided by √3, which belongs to the half step.',
      ],
      [
        (25 * step_mW) / shows_mW,
        'half of the limit: that is for limits known to hold ninety-five in a hundred of a normal distribution.',
      ],
      [step_mW / Math.sqrt(12), 'that is in mW; the question asks for percent of the reading.'],
      [
        2 * right,
        'that is expanded with k = 2, and the question asks for the standard uncertainty.',
      ],
    ],
  };
}
