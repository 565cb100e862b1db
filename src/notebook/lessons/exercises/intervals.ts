import { formatNumber } from '../../../findings/formatNumber.js';
import { studentFactor } from '../estimates.js';
import type { Exercise } from '../pose.js';

/** The half-width of an honest interval from few laps. */
export function intervalsExercise({
  laps,
  s,
}: {
  readonly laps: number;
  readonly s: number;
}): Exercise {
  const root = Math.sqrt(laps);
  const t = studentFactor(laps);
  return {
    question: [
      `${laps} laps; their factors scatter with a standard deviation of s = ${s} %.`,
      'How large is the half-width of an honest interval for their mean, in percent, for ninety-five in a hundred? (No sign needed.)',
    ],
    right: (t * s) / root,
    unit: '%',
    sign: 'free',
    why: `t for ${laps - 1} degrees of freedom is ${formatNumber(t, { digits: 4 })}, and a mean of ${laps} laps scatters √${laps} times less than one lap.`,
    hints: [
      'three things are multiplied: the scatter of a lap, what a mean makes of it, and a number from the table above.',
      'degrees of freedom are laps less one, and the table above gives t by laps.',
    ],
    slips: [
      [
        (1.96 * s) / root,
        '1.96 is for a scatter that is known; this one was estimated from the same few laps.',
      ],
      [
        (2 * s) / root,
        'two is for a scatter that is known; this one was estimated from the same few laps.',
      ],
      [
        (studentFactor(laps + 1) * s) / root,
        't was looked up for as many degrees of freedom as laps; one is used up by the mean.',
      ],
      [
        t * s,
        'that is where a single further lap lies, more or less; the mean of several scatters less.',
      ],
      [s / root, 'that is one standard uncertainty of the mean, which holds about two of three.'],
      [(t * s) / laps, 'the scatter of a mean falls with the square root of the number of laps.'],
      [(2 * t * s) / root, 'that is the whole width, from end to end.'],
    ],
  };
}
