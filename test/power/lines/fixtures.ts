import { readFileSync } from 'node:fs';
import { PEAK_FLOW } from '../../peakFlow.js';

/** Reference values by R; the script beside the file holds the call for each. */
export const fromR = JSON.parse(
  readFileSync(new URL('../../fixtures/lines.json', import.meta.url), 'utf8'),
) as Readonly<Record<string, readonly number[]>>;

export interface ScipySet {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly ux: readonly number[];
  readonly uy: readonly number[];
  readonly theil_slope: number;
  readonly theil_joint_intercept: number;
  readonly theil_separate_intercept: number;
  readonly theil_low: number;
  readonly theil_high: number;
  readonly york: readonly number[];
  readonly deming_ratio_4: readonly number[];
}

/** Reference values by SciPy; the script beside the file holds the calls. */
export const fromScipy = JSON.parse(
  readFileSync(new URL('../../fixtures/linesScipy.json', import.meta.url), 'utf8'),
) as { readonly sets: Readonly<Record<string, ScipySet>> };

export const peakFlow = { x: PEAK_FLOW.reference, y: PEAK_FLOW.candidate };

/** Pearson (1901) with the weights (1/variance) of York (1966). */
export const york = {
  x: [0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4],
  y: [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5],
  x_standard_uncertainty: [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1].map((w) => w ** -0.5),
  y_standard_uncertainty: [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500].map((w) => w ** -0.5),
};

interface GainAndOffset {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly adjusted: readonly number[];
}

/** Reference values from definitions written out; the script beside the file holds them. */
export const fromDefinition = JSON.parse(
  readFileSync(new URL('../../fixtures/powerLines.json', import.meta.url), 'utf8'),
) as {
  readonly mixed: GainAndOffset;
  readonly below: GainAndOffset;
  readonly jackknife: {
    readonly x: readonly number[];
    readonly y: readonly number[];
    readonly intercept: number;
    readonly slope: number;
    readonly covariance: number;
  };
};
