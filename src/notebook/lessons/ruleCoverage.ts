import { type Coverage, coverageOf } from './coverageOf.js';
import { lapEstimate } from './lapEstimate.js';
import type { DecidedLap, LeaveOutRule } from './leaveOut.js';

export interface NamedRule {
  readonly name: string;
  readonly rule: LeaveOutRule;
}

/** What each rule makes of the same series. */
export interface RuleCoverage {
  /** What kind of day it was. */
  readonly name: string;
  readonly rules: readonly (NamedRule & { readonly coverage: Coverage })[];
}

/**
 * How often does Student's interval hold the truth when laps are left out by a rule first?
 *
 * @param options.series the same laps for every rule
 * @throws argument-wrong without series
 */
export function ruleCoverage(options: {
  readonly name: string;
  readonly series: readonly (readonly DecidedLap[])[];
  readonly rules: readonly NamedRule[];
  readonly truth: number;
}): RuleCoverage {
  return {
    name: options.name,
    rules: options.rules.map((one) => ({
      ...one,
      coverage: coverageOf(
        options.series.map((laps) => lapEstimate(one.rule(laps).map((lap) => lap.log))),
        options.truth,
      ),
    })),
  };
}
