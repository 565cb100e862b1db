import { effectiveDof, type UncertaintyPart } from '../budget/index.js';
import { argumentWrong } from '../error.js';
import { coverageFactor } from '../statistics/distributions.js';
import { noncentralStudentCdf } from '../statistics/noncentralStudent.js';
import { requireConfidence } from '../statistics/options.js';
import { designUncertainty, type PlannedSeries } from './designUncertainty.js';
import { wholeBlocks } from './runOrder.js';

interface PlanOptions extends PlannedSeries {
  readonly confidence: number;
  /** What laps do not reduce: certificate, display, settling … relative. */
  readonly others?: readonly UncertaintyPart[];
  /** Where to stop looking (default 1000 laps). */
  readonly most_laps?: number;
}

export interface LapsNeededOptions extends PlanOptions {
  /** Wanted relative expanded uncertainty of the factor. */
  readonly wanted: number;
}

export interface LapsNeeded {
  /** In whole blocks of the order; `null` when no number up to `most_laps` does it. */
  readonly laps: number | null;
  /** What that many laps give (the most looked at when `laps` is `null`). */
  readonly relative_expanded_uncertainty: number;
  readonly coverage_factor: number;
  readonly dof: number;
  /** Relative expanded uncertainty that no number of laps gets below. */
  readonly floor: number;
  readonly sentence: string;
}

/**
 * How many laps does a wanted uncertainty of the factor take? The coverage factor is that of the
 * degrees of freedom each number of laps leaves, so few laps are charged in full.
 *
 * @throws argument-wrong for a wanted uncertainty not above zero, and as `designUncertainty`
 * @see JCGM 100:2008, 4.2.3 and G.4
 */
export function lapsNeeded(options: LapsNeededOptions): LapsNeeded {
  const { wanted, confidence } = options;
  requireConfidence(confidence);
  requirePositive(wanted, 'A wanted uncertainty');
  const others = options.others ?? [];
  const floor = expanded(others, confidence).U;
  const found = search(options, (parts) => {
    const answer = expanded(parts, confidence);
    return { answer, enough: answer.U <= wanted };
  });
  const { U, k, dof } = found.answer;
  const sentence =
    found.laps !== null
      ? `${count(found.laps)} bring the expanded uncertainty to ${percent(U)} (k = ${k.toFixed(2)}), within the wanted ${percent(wanted)}.`
      : floor > wanted
        ? `No number of laps reaches ${percent(wanted)}: what laps do not reduce is ${percent(floor)} by itself. A better certificate, display or source is needed first.`
        : `Not within ${found.tried} laps: they bring the expanded uncertainty to ${percent(U)}, not to the wanted ${percent(wanted)}. A steadier source or steadier meters would help.`;
  return {
    laps: found.laps,
    relative_expanded_uncertainty: U,
    coverage_factor: k,
    dof,
    floor,
    sentence,
  };
}

export interface LapsToShowBiasOptions extends PlanOptions {
  /** Size of the bias to be shown: |ln(candidate ÷ reference)|, for a few percent the fraction. */
  readonly bias: number;
  /** Wanted probability of showing it when it is there, for example 0.8. */
  readonly power: number;
}

export interface LapsToShowBias {
  readonly laps: number | null;
  /** Probability at that many laps (at the most looked at when `laps` is `null`). */
  readonly power: number;
  readonly dof: number;
  readonly sentence: string;
}

/**
 * How many laps does it take to show a bias of a given size? Two-sided t test of the meter effect.
 *
 * @throws argument-wrong for a bias not above zero or a power outside 0 to 1, and as
 *   `designUncertainty`
 * @see J. Cohen, Statistical Power Analysis for the Behavioral Sciences (1988), chapter 2; the
 *   power is that of noncentral t
 */
export function lapsToShowBias(options: LapsToShowBiasOptions): LapsToShowBias {
  const { bias, power, confidence } = options;
  requireConfidence(confidence);
  requirePositive(bias, 'A bias to be shown');
  if (!(power > 0 && power < 1)) {
    throw argumentWrong('A power must lie between 0 and 1.', power, '0.8');
  }
  const found = search(options, (parts) => {
    const u = Math.hypot(...parts.map((part) => part.standard_uncertainty));
    const dof = effectiveDof(parts);
    const reached = biasPower({ bias, standard_uncertainty: u, dof, confidence });
    return { answer: { power: reached, dof }, enough: reached >= power };
  });
  const chance = (p: number) => `${Math.floor(100 * p)} %`;
  const sentence =
    found.laps !== null
      ? `${count(found.laps)} show a bias of ${percent(bias)}, if it is there, with a probability of ${chance(found.answer.power)}.`
      : `Not within ${found.tried} laps: a bias of ${percent(bias)} would be shown with a probability of only ${chance(found.answer.power)}.`;
  return { laps: found.laps, power: found.answer.power, dof: found.answer.dof, sentence };
}

/**
 * With what probability does a two-sided t test show a bias that is there?
 *
 * @throws argument-wrong for degrees of freedom out of range
 */
export function biasPower(options: {
  readonly bias: number;
  readonly standard_uncertainty: number;
  readonly dof: number;
  readonly confidence: number;
}): number {
  const { bias, standard_uncertainty, dof, confidence } = options;
  if (bias === 0) return 1 - confidence;
  const critical = coverageFactor(confidence, dof);
  // Beyond a thousand the power is 1 to every digit, unless t itself has a tail as long.
  const shift = Math.min(Math.abs(bias) / standard_uncertainty, 1e3 * critical, 1e5);
  return (
    1 - noncentralStudentCdf(critical, dof, shift) + noncentralStudentCdf(-critical, dof, shift)
  );
}

/** First number of laps, in whole blocks, that is enough. */
function search<Answer>(
  options: PlanOptions,
  judge: (parts: readonly UncertaintyPart[]) => { answer: Answer; enough: boolean },
): { laps: number | null; tried: number; answer: Answer } {
  const { order, others = [], most_laps = 1000 } = options;
  const block = wholeBlocks(order, 1);
  const at = (laps: number) => {
    const own = designUncertainty(options, laps);
    return own === null ? null : judge([own, ...others]);
  };
  const most = Math.floor(most_laps / block) * block;
  const last = most >= block ? at(most) : null;
  if (last === null) {
    throw argumentWrong('So few laps leave no degree of freedom.', most_laps, 'more laps to try');
  }
  if (!last.enough) return { laps: null, tried: most, answer: last.answer };
  // Steps double until it is enough, then halve: more laps never make it worse by whole blocks.
  let low = 0;
  let high = block;
  for (; high < most && !at(high)?.enough; high = Math.min(2 * high, most)) low = high;
  while (high - low > block) {
    const middle = wholeBlocks(order, Math.floor((low + high) / 2));
    if (at(middle)?.enough) high = middle;
    else low = middle;
  }
  const best = at(high);
  return { laps: high, tried: high, answer: (best ?? last).answer };
}

function expanded(parts: readonly UncertaintyPart[], confidence: number) {
  const u = Math.hypot(...parts.map((part) => part.standard_uncertainty));
  const dof = effectiveDof(parts);
  const k = coverageFactor(confidence, dof);
  return { U: k * u, k, dof };
}

function requirePositive(value: number, what: string): void {
  if (!(value > 0 && Number.isFinite(value))) {
    throw argumentWrong(`${what} must be a finite number above zero.`, value);
  }
}

function count(laps: number): string {
  return laps === 1 ? 'One lap would' : `${laps} laps`;
}

function percent(fraction: number): string {
  return `${(100 * fraction).toPrecision(2)} %`;
}
