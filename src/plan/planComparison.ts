import { percentText } from '../findings/formatNumber.js';
import { METERS } from '../record/meters.js';
import { coverageFactor } from '../statistics/distributions.js';
import { sentences } from '../statistics/sentences.js';
import { KNOWN_EXACTLY, LEAST_LAPS, type RunOrder } from '../vocabulary.js';
import { type ComparisonWishes, type CompleteWishes, completeWishes } from './comparisonWishes.js';
import { plannedPlacement } from './placement.js';
import { type PlannedOutlook, plannedOutlook } from './plannedOutlook.js';
import type { SizeOfDesign } from './plannedSpread.js';
import { type Remedy, remedies } from './remedies.js';
import { BLOCK_LAPS, wholeBlocks } from './runOrder.js';
import { DRIFT_PER_RUN, standsStill } from './shownReadings.js';

export interface ComparisonPlan {
  /** The smallest design that keeps the promise; `null` when none does. */
  readonly design: {
    readonly series: number;
    readonly laps: number;
    readonly order: RunOrder;
  } | null;
  /** What that design gives, or the one that comes nearest. */
  readonly outlook: PlannedOutlook;
  /** Relative U from the certificate alone; `null` when none is stated. */
  readonly certificate_U: number | null;
  /** Single changes that would make the wish reachable with that design; empty when reached, or when none does. */
  readonly remedies: readonly Remedy[];
  /** Fields that study.json has to hold for the analysis to reckon as planned. */
  readonly study: {
    readonly protocol: { readonly order: RunOrder; readonly placement?: 'jig' | 'by-hand' };
    readonly between_series_percent?: number;
  };
  readonly assumed: readonly string[];
  readonly sentence: string;
}

/**
 * How many series of how many laps does it take until a later reading, corrected, is known as well as
 * wished? The smallest number of laps altogether, in whole blocks of the order and at least
 * `LEAST_LAPS` a series, with which the wish is met with the wanted probability. A probability, because
 * U itself depends on the scatter that the comparison will happen to show.
 *
 * @throws argument-wrong for wishes that mean nothing (`completeWishes`)
 * @see docs/methods/planning.md
 */
export function planComparison(wishes: ComparisonWishes): ComparisonPlan {
  const complete = completeWishes(wishes);
  const { order, wanted, certificate, confidence, probability } = complete;
  const placement = plannedPlacement(complete.placement);
  const { found, nearest } = search(complete);
  const outlook = found ?? nearest;
  const certificate_U =
    certificate === undefined
      ? null
      : (coverageFactor(confidence, KNOWN_EXACTLY) * certificate.expanded_uncertainty) /
        certificate.coverage_factor;
  const change = found === null ? remedies(complete, outlook) : [];
  return {
    design: found === null ? null : { series: found.series, laps: found.laps, order },
    outlook,
    certificate_U,
    remedies: change,
    study: {
      protocol: {
        order,
        ...(typeof complete.placement === 'string' ? { placement: complete.placement } : {}),
      },
      ...(placement.stated === null
        ? {}
        : { between_series_percent: +(100 * placement.stated).toPrecision(6) }),
    },
    assumed: [
      placement.note,
      ...(certificate === undefined
        ? ['No certificate: every U is relative to this reference only.']
        : []),
      ...displayNotes(complete),
    ],
    sentence:
      found !== null
        ? `${found.series} series of ${found.laps} laps: a reading corrected later, the head put up anew, is then known to ± ${percentText(wanted)} or better in ${hundred(outlook.probability)} of 100 such comparisons (half of them: ± ${percentText(outlook.reading_U)}), K itself to about ± ${percentText(outlook.factor_U)}.`
        : sentences([
            `± ${percentText(wanted)} for a corrected reading cannot be promised: ${outlook.series} series of ${outlook.laps} laps, the best of what may be done, reach it in ${hundred(outlook.probability)} of 100 comparisons, not in ${hundred(probability)}.`,
            certificate_U === null
              ? ''
              : `The certificate alone gives ± ${percentText(certificate_U)}.`,
            change.length === 0
              ? 'No single change makes it reachable.'
              : `What would help: ${change.map((one) => one.words).join('; or ')}.`,
          ]),
  };
}

function displayNotes({ display, noise, source_noise }: CompleteWishes): readonly string[] {
  if (display === undefined) {
    return ['No power is said to hold display steps against: they are taken as too fine to count.'];
  }
  const { level_mW, step_mW } = display;
  const unsaid = METERS.filter((meter) => step_mW[meter] === null);
  return [
    ...(unsaid.length === 0
      ? []
      : [
          `The display ${unsaid.length === 1 ? `step of the ${unsaid[0]} is` : 'steps are'} not said: taken as too fine to count.`,
        ]),
    ...METERS.flatMap((meter) => {
      const step = (step_mW[meter] ?? 0) / level_mW;
      return step > 0 && standsStill(Math.hypot(noise[meter], source_noise), step)
        ? [
            `The ${meter} may stand still on one or two numbers (a step is ${percentText(step)}): what it shows then depends on how the power moves, for which ${percentText(Math.abs(DRIFT_PER_RUN))} from run to run is taken. Choose more power.`,
          ]
        : [];
    }),
  ];
}

/** Comparisons drawn to see whether a design is worth a closer look. */
const GLANCE = 200;
/** How far below the wanted probability a design is hopeless at a glance: five standard errors. */
const HOPELESS = 5;
/** Comparisons drawn for a second look. */
const SECOND = 800;
/**
 * How much more U a design may promise after the first or second look than the best does, and still be
 * looked at closely. In trials a look was up to 9 % or 7 % off, less from design to design, which have the
 * same luck.
 */
const LEEWAY = { first: 1.12, second: 1.06 };

/**
 * Fewest laps altogether; of equals the one that is likelier to keep the promise. Every design in
 * turn: with several series more laps are not always better, because they show the spread more sharply.
 */
function search(wishes: CompleteWishes): {
  readonly found: PlannedOutlook | null;
  readonly nearest: PlannedOutlook;
} {
  const { probability: p, wanted } = wishes;
  const hopeless = p - HOPELESS * Math.sqrt((p * (1 - p)) / GLANCE);
  const short: PlannedOutlook[] = [];
  const seen: PlannedOutlook[] = [];
  let found: PlannedOutlook | null = null;
  for (const size of sizes(wishes)) {
    if (found !== null && total(size) > total(found)) break;
    const glance = plannedOutlook(wishes, size, GLANCE);
    if (glance === null) continue;
    if (glance.probability < hopeless) {
      short.push(glance);
      continue;
    }
    const outlook = plannedOutlook(wishes, size) ?? glance;
    seen.push(outlook);
    if (outlook.reading_U_promised > wanted) continue;
    if (found === null || outlook.probability > found.probability) found = outlook;
  }
  return { found, nearest: found ?? nearestOf(wishes, seen, short) };
}

/** The least U that can be promised; those short at a glance are looked at where they may have it. */
function nearestOf(
  wishes: CompleteWishes,
  seen: readonly PlannedOutlook[],
  short: readonly PlannedOutlook[],
): PlannedOutlook {
  const least = Math.min(...seen.map((one) => one.reading_U_promised));
  const within = (outlooks: readonly PlannedOutlook[], leeway: number) => {
    const best = Math.min(least, ...outlooks.map((one) => one.reading_U_promised));
    return outlooks.filter((one) => one.reading_U_promised <= leeway * best);
  };
  const again = ({ series, laps }: PlannedOutlook, draws?: number) =>
    plannedOutlook(wishes, { series, laps }, draws) ?? [];
  const second = within(short, LEEWAY.first).flatMap((one) => again(one, SECOND));
  const looked = [...seen, ...within(second, LEEWAY.second).flatMap((one) => again(one))];
  // Of equals the one with the fewest laps.
  looked.sort((a, b) => total(a) - total(b));
  return looked.reduce((a, b) => (b.reading_U_promised < a.reading_U_promised ? b : a));
}

const total = ({ series, laps }: SizeOfDesign) => series * laps;

/** Every design that may be, from the fewest laps altogether. */
function sizes({ order, most_series, most_laps }: CompleteWishes): readonly SizeOfDesign[] {
  const least = wholeBlocks(order, LEAST_LAPS);
  const blocks = Math.floor((most_laps - least) / BLOCK_LAPS[order]) + 1;
  return Array.from({ length: most_series }, (_, i) =>
    Array.from({ length: blocks }, (__, j) => ({
      series: i + 1,
      laps: least + j * BLOCK_LAPS[order],
    })),
  )
    .flat()
    .sort((a, b) => total(a) - total(b));
}

/** Hundredths, never rounded up to a promise. */
const hundred = (probability: number) => Math.floor(100 * probability + 1e-9);
