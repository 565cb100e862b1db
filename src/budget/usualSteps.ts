import type { ContributionKind } from '../vocabulary.js';

/** What is done about a contribution, and what the usual step of it brings. */
export interface UsualStep {
  /** How the usual step changes the standard uncertainty and the degrees of freedom. */
  readonly scale: number;
  readonly dof: number;
  readonly what: (name: string) => string;
}

/** Common practice, no source. */
export const USUAL_STEPS: Readonly<Record<ContributionKind, UsualStep>> = {
  repeatability: { scale: Math.SQRT1_2, dof: 2, what: () => 'Twice the laps' },
  calibration: {
    scale: 0.5,
    dof: 1,
    what: () => 'A certificate with half the uncertainty for the reference',
  },
  ageing: { scale: 0.1, dof: 1, what: () => 'Calibrating the reference anew' },
  resolution: {
    scale: 0.1,
    dof: 1,
    what: () => 'A display with ten times finer steps, or ten times the power,',
  },
  'between-series': {
    scale: Math.SQRT1_2,
    dof: 2,
    what: () => 'Twice the number of series, each with the heads taken away and seated again,',
  },
  zero: {
    scale: 0.1,
    dof: 1,
    what: () => 'A display with ten times finer steps for the zero, or ten times the power,',
  },
  settling: {
    scale: 0.5,
    dof: 1,
    what: () => 'Waiting longer before each reading (five time constants of the slower meter)',
  },
  drift: {
    scale: 0.5,
    dof: 1,
    what: () => 'A steadier source, or an order that cancels the drift (ABBA BAAB),',
  },
  setting: {
    scale: 0.5,
    dof: 1,
    what: () => 'Halving the distance between the wavelength set and that of the source',
  },
  power: {
    scale: 0,
    dof: 1,
    what: () => 'Taking the factor of the level of power, as a correction does,',
  },
  other: { scale: 0.5, dof: 1, what: (name) => `Halving "${name}"` },
};
