import { percentText, shareText } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
import { capital } from '../statistics/sentences.js';
import type { Contribution, ContributionKind } from '../vocabulary.js';
import { combineContributions } from './combine.js';
import { type BudgetPart, coverageOfBudget } from './coverageOfBudget.js';
import { USUAL_STEPS } from './usualSteps.js';

/** What is in no budget because nobody recorded it, and what it would be paid down with. */
export interface Lacking {
  readonly kind: ContributionKind;
  readonly text: string;
}

export interface NextImprovementOptions {
  /** With the shape of each where it is known; else of a t, or of a normal distribution where known exactly. */
  readonly budget: readonly (Omit<Contribution, 'share'> & {
    readonly shape?: BudgetPart['shape'];
  })[];
  readonly confidence: number;
  /** Wanted relative expanded uncertainty; left out: none is aimed at. */
  readonly wanted?: number;
  /** Laps behind the repeatability, to say how many more are needed; none for 0. */
  readonly laps?: number;
  readonly missing?: readonly Lacking[];
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
  /** The answer in words, and what the budget lacks. */
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
  const { expanded, parts, stepFor, laps_needed, ...answer } = improvement(options);
  return { ...answer, expanded, steps: parts.map(stepFor), laps_needed };
}

/**
 * The answer in words alone: the uncertainty after each other step is not computed.
 *
 * @param expanded relative expanded uncertainty of the budget now
 */
export function nextStep(
  options: NextImprovementOptions,
  expanded: number,
): Pick<NextImprovement, 'sentence' | 'step'> {
  const { sentence, step } = improvement(options, expanded);
  return { sentence, step };
}

function improvement(options: NextImprovementOptions, known?: number) {
  const { budget, confidence, wanted, laps, missing = [] } = checked(options);
  const expandedWith = expandedOf(budget, confidence);
  const expanded = known ?? expandedWith((one) => one);
  const parts = largestFirst(budget);
  const [largest] = parts;
  const enough = largest === undefined || (wanted !== undefined && expanded <= wanted);
  const { lapsFloor, needed } = enough
    ? { lapsFloor: expanded, needed: null }
    : byLaps(budget, expandedWith, expanded, { wanted, laps });
  const step = (part: Contribution) => stepFor(part, expanded, expandedWith);
  const advice = enough ? '' : adviceFor(largest, expanded, expandedWith).advice;
  const found = { largest, advice, expanded, lapsFloor, wanted, laps, needed };
  return {
    sentence: [...answerText(found, 'whole'), ...missingText(missing)].join(' '),
    step: answerText(found, 'short').join(' '),
    expanded,
    parts,
    stepFor: step,
    laps_needed: needed,
  };
}

const checked = (options: NextImprovementOptions) =>
  requireOptions(options, {
    budget: {
      list: {
        fields: { name: 'text', share: { maybe: 'number' }, kind: Object.keys(USUAL_STEPS) },
      },
    },
    confidence: 'confidence',
    wanted: { maybe: 'above-zero' },
    laps: { maybe: 'above-zero' },
    missing: { maybe: { list: { fields: { kind: 'text', text: 'text' } } } },
  });

type Budget = NextImprovementOptions['budget'];

function expandedOf(budget: Budget, confidence: number): Expanded {
  return (changed) => {
    const parts = budget.map((one) => ({ ...changed(one), shape: one.shape ?? 'student' }));
    return Math.expm1(coverageOfBudget(parts, confidence).high);
  };
}

function largestFirst(budget: Budget): readonly Contribution[] {
  const plain = budget.map(({ shape: _, ...one }) => one);
  return combineContributions(plain)
    .budget.filter((one) => one.relative_standard_uncertainty > 0)
    .sort((a, b) => b.share - a.share);
}

/** How far any number of laps gets U, and how many get it to what is wanted. */
function byLaps(
  budget: Budget,
  expandedWith: Expanded,
  expanded: number,
  { wanted, laps }: { readonly wanted: number | undefined; readonly laps: number | undefined },
): { readonly lapsFloor: number; readonly needed: number | null } {
  const isLaps = ({ kind }: Line) => kind === 'repeatability';
  const withLaps = (scale: number, dof: number) =>
    expandedWith((one) => (isLaps(one) ? scaled(one, scale, dof) : one));
  const lapsFloor = withLaps(0, 1);
  const reachable = wanted !== undefined && lapsFloor <= wanted;
  const needed =
    reachable && laps && budget.some(isLaps)
      ? lapsFor(wanted, { laps, expanded, floor: lapsFloor }, (more) =>
          withLaps(1 / Math.sqrt(more), more),
        )
      : null;
  return { lapsFloor, needed };
}

/** U of the whole with every contribution changed in some way. */
type Expanded = (changed: (one: Line) => Line) => number;

type Line = Omit<Contribution, 'share'>;

/** What one contribution holds back. */
function stepFor(part: Contribution, expanded: number, expandedWith: Expanded): ImprovementStep {
  return {
    name: part.name,
    kind: part.kind,
    share: part.share,
    floor: expandedWith((one) => (one.name === part.name ? scaled(one, 0, 1) : one)),
    ...adviceFor(part, expanded, expandedWith),
  };
}

function adviceFor(
  part: Contribution,
  expanded: number,
  expandedWith: Expanded,
): Pick<ImprovementStep, 'after' | 'advice'> {
  const { scale, dof, what } = USUAL_STEPS[part.kind];
  const after = expandedWith((one) => (one.name === part.name ? scaled(one, scale, dof) : one));
  return {
    after,
    advice: `${what(part.name)} would bring U from ${percentText(expanded)} to about ${percentText(after)}.`,
  };
}

/** The answer in sentences: what is largest, whether it is enough, what to do; in short, only the last. */
function answerText(
  found: {
    readonly largest: Contribution | undefined;
    readonly advice: string;
    readonly expanded: number;
    readonly lapsFloor: number;
    readonly wanted: number | undefined;
    readonly laps: number | undefined;
    readonly needed: number | null;
  },
  length: 'whole' | 'short',
): readonly string[] {
  const { largest, advice, expanded, lapsFloor, wanted, laps, needed } = found;
  if (largest === undefined) {
    return ['Nothing contributes to the uncertainty, so nothing can be improved.'];
  }
  const first = `${capital(largest.name)} is ${shareText(largest.share)} of the variance.`;
  if (wanted !== undefined && expanded <= wanted) {
    return [
      first,
      `U is ${percentText(expanded)}, within the wanted ${percentText(wanted)}: nothing has to improve.`,
    ];
  }
  const reach =
    largest.kind === 'repeatability'
      ? `More laps are what helps: with all else as it is they can bring U from ${percentText(expanded)} towards ${percentText(lapsFloor)}.`
      : `Further laps cannot bring U below ${percentText(lapsFloor)} (now ${percentText(expanded)}).`;
  // Where laps do it, how many says it all.
  const told = length === 'short' && needed !== null;
  return [
    first,
    ...(length === 'short' ? [] : [reach]),
    ...(told ? [] : [advice]),
    ...(wanted === undefined ? [] : [wantedText(wanted, lapsFloor, laps, needed)]),
  ];
}

function scaled(one: Line, scale: number, dof: number): Line {
  return {
    ...one,
    relative_standard_uncertainty: one.relative_standard_uncertainty * scale,
    dof: one.dof * dof,
  };
}

/** So many times the present laps are the most that is thought of. */
const MOST_LAPS = 2 ** 13;

/**
 * Smallest number of laps whose U is within what is wanted; `null` where it takes more than anybody
 * would. U² falls almost as a line in 1 ÷ laps, which tells where to look.
 *
 * @param now the laps there are, their U, more than wanted, and what no number of laps gets below
 */
function lapsFor(
  wanted: number,
  now: { readonly laps: number; readonly expanded: number; readonly floor: number },
  expandedAt: (timesAsMany: number) => number,
): number | null {
  const { laps } = now;
  const most = MOST_LAPS * laps;
  // The number looked for lies above the first, and is the second at most.
  let [few, enough] = [laps, most + 1];
  let [atFew, inverse, atEnough] = [now.expanded, 0, now.floor];
  for (let round = 1; enough - few > 1; round++) {
    const part = (atFew ** 2 - wanted ** 2) / (atFew ** 2 - atEnough ** 2);
    // Halved from time to time, so that it ends soon also where the line is none.
    const guess = round % 3 === 0 ? (few + enough) / 2 : 1 / (1 / few + part * (inverse - 1 / few));
    const next = Math.min(enough - 1, Math.max(few + 1, Math.ceil(guess)));
    const found = expandedAt(next / laps);
    if (found > wanted) [few, atFew] = [next, found];
    else [enough, inverse, atEnough] = [next, 1 / next, found];
  }
  return enough > most ? null : enough;
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
function missingText(missing: readonly Lacking[]): string[] {
  if (missing.length === 0) return [];
  const zeros = missing.some(({ kind }) => kind === 'zero');
  const texts = missing.map(({ text }) => text).join('; ');
  return [
    `Not in the budget at all, so U may be too small: ${texts}.`,
    ...(zeros
      ? ['Record the indication with the beam blocked before every reading: it costs nothing.']
      : []),
  ];
}
