import { argumentWrong } from '../error.js';
import { percentText, shareText } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
import type { Contribution } from '../vocabulary.js';
import { combineContributions } from './combine.js';
import { type ContributionKind, contributionKind } from './contributionKind.js';
import { type BudgetPart, coverageOfBudget } from './coverageOfBudget.js';
import { CURRENCIES } from './currencies.js';

export interface NextImprovementOptions {
  /** With the shape of each where it is known; else of a t, or of a normal distribution where known exactly. */
  readonly budget: readonly (Contribution & { readonly shape?: BudgetPart['shape'] })[];
  readonly confidence: number;
  /** Wanted relative expanded uncertainty; left out: none is aimed at. */
  readonly wanted?: number;
  /** Laps behind the repeatability, to say how many more are needed. */
  readonly laps?: number;
  /** What is not in the budget because nobody recorded it, in words. */
  readonly missing?: readonly string[];
  /** Kind of a contribution by name, where its name does not tell. */
  readonly kinds?: Readonly<Record<string, ContributionKind>>;
}

/** What one contribution holds back, and what attacking it would bring. */
export interface ImprovementStep {
  readonly name: string;
  readonly kind: ContributionKind;
  readonly share: number;
  /** Relative expanded uncertainty if this contribution vanished: no effort on it does better. */
  readonly floor: number;
  /** Relative expanded uncertainty after the step that `advice` names. */
  readonly after: number;
  /** What to do, as a sentence with numbers. */
  readonly advice: string;
}

export interface NextImprovement {
  /** The answer in words: `step`, and what the budget lacks. */
  readonly sentence: string;
  /** What would improve U most, in short. */
  readonly step: string;
  /** Relative expanded uncertainty now. */
  readonly expanded: number;
  /** Every contribution that is not zero, the largest first. */
  readonly steps: readonly ImprovementStep[];
  /**
   * Laps in all that bring U to the wanted value with everything else as it is; `null` when not
   * asked, not needed, or out of reach by laps alone.
   */
  readonly laps_needed: number | null;
}

/**
 * Which contribution should be attacked next, and in what currency: laps, a certificate, a finer
 * display, more series, a recorded zero?
 *
 * @throws argument-wrong for a wanted uncertainty not above zero, and as `combineContributions`
 * @see JCGM 100:2008, 5.1.2 and G.4 (the variance is a sum, so the largest part rules it)
 */
export function nextImprovement(options: NextImprovementOptions): NextImprovement {
  requireOptions(options, {
    budget: true,
    confidence: true,
    wanted: true,
    laps: true,
    missing: true,
    kinds: true,
  });
  const { budget, confidence, wanted, laps, kinds, missing = [] } = options;
  if (wanted !== undefined && !(wanted > 0 && Number.isFinite(wanted))) {
    throw argumentWrong('A wanted uncertainty must be above zero.', wanted);
  }
  const kindOf = (name: string) => kinds?.[name] ?? contributionKind(name);
  const expandedWith = (changed: (one: Contribution) => Contribution) =>
    Math.expm1(
      coverageOfBudget(
        budget.map((one) => ({ ...changed(one), shape: one.shape ?? 'student' })),
        confidence,
      ).high,
    );
  const now = combineContributions(
    budget.map(({ shape: _, ...one }) => one),
    { confidence },
  );
  const expanded = expandedWith((one) => one);
  const steps = now.budget
    .filter((one) => one.relative_standard_uncertainty > 0)
    .sort((a, b) => b.share - a.share)
    .map((part): ImprovementStep => {
      const kind = kindOf(part.name);
      const { scale, dof, what } = CURRENCIES[kind];
      const after = expandedWith((one) => (one.name === part.name ? scaled(one, scale, dof) : one));
      const floor = expandedWith((one) => (one.name === part.name ? scaled(one, 0, 1) : one));
      const advice = `${what(part.name)} would bring U from ${percentText(expanded)} to about ${percentText(after)}.`;
      return { name: part.name, kind, share: part.share, floor, after, advice };
    });
  if (steps.length === 0) {
    const step = 'Nothing contributes to the uncertainty, so nothing can be improved.';
    return {
      sentence: [step, ...missingText(missing, kindOf)].join(' '),
      step,
      expanded,
      steps,
      laps_needed: null,
    };
  }
  const isLaps = (one: Contribution) => kindOf(one.name) === 'repeatability';
  const lapsFloor = expandedWith((one) => (isLaps(one) ? scaled(one, 0, 1) : one));
  const reached = wanted !== undefined && expanded <= wanted;
  const laps_needed =
    wanted === undefined || reached || laps === undefined || !budget.some(isLaps)
      ? null
      : lapsFor(wanted, laps, (more) =>
          expandedWith((one) => (isLaps(one) ? scaled(one, 1 / Math.sqrt(more), more) : one)),
        );
  const [largest] = steps;
  const head = `${capital(largest.name)} is ${shareText(largest.share)} of the variance.`;
  const goal =
    wanted === undefined || reached ? '' : wantedText(wanted, lapsFloor, laps, laps_needed);
  const sentence = [
    head,
    wanted !== undefined && reached
      ? `U is ${percentText(expanded)}, within the wanted ${percentText(wanted)}: nothing has to improve.`
      : '',
    reached
      ? ''
      : largest.kind === 'repeatability'
        ? `More laps are what helps: with all else as it is they can bring U from ${percentText(expanded)} towards ${percentText(lapsFloor)}.`
        : `Further laps cannot bring U below ${percentText(lapsFloor)} (now ${percentText(expanded)}).`,
    reached ? '' : largest.advice,
    goal,
    ...missingText(missing, kindOf),
  ];
  // Where laps do it, how many says it all.
  const step = [head, laps_needed === null ? largest.advice : '', goal];
  return {
    sentence: joined(sentence),
    step: joined(step),
    expanded,
    steps,
    laps_needed,
  };
}

const joined = (parts: readonly string[]) => parts.filter((part) => part !== '').join(' ');

function scaled(one: Contribution, scale: number, dof: number): Contribution {
  return {
    ...one,
    relative_standard_uncertainty: one.relative_standard_uncertainty * scale,
    dof: one.dof * dof,
  };
}

/** Smallest number of laps whose U is within what is wanted, up to 10⁴ times the present ones. */
function lapsFor(
  wanted: number,
  laps: number,
  expandedAt: (timesAsMany: number) => number,
): number | null {
  let high = 2 * laps;
  while (expandedAt(high / laps) > wanted) {
    high *= 2;
    if (high > 1e4 * laps) return null;
  }
  let low = Math.floor(high / 2);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (expandedAt(middle / laps) > wanted) low = middle;
    else high = middle;
  }
  return high;
}

function wantedText(
  wanted: number,
  lapsFloor: number,
  laps: number | undefined,
  needed: number | null,
): string {
  if (needed !== null && laps !== undefined) {
    return `The wanted ${percentText(wanted)} would take about ${needed} laps in all (${needed - laps} more), with all else as it is.`;
  }
  return lapsFloor > wanted
    ? `No number of laps reaches the wanted ${percentText(wanted)}: something else has to improve first.`
    : `The wanted ${percentText(wanted)} is within reach of more laps.`;
}

/** What is not in the budget may be larger than anything in it, so it is never passed over. */
function missingText(
  missing: readonly string[],
  kindOf: (name: string) => ContributionKind,
): string[] {
  if (missing.length === 0) return [];
  const zeros = missing.some((name) => kindOf(name) === 'zero');
  return [
    `Not in the budget at all, so U may be too small: ${missing.join('; ')}.`,
    ...(zeros
      ? ['Record the indication with the beam blocked before every reading: it costs nothing.']
      : []),
  ];
}

function capital(name: string): string {
  return name.charAt(0).toUpperCase() + name.slice(1);
}
