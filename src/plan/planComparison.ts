import { percentText } from '../budget/percentText.js';
import { coverageFactor } from '../statistics/distributions.js';
import { KNOWN_EXACTLY, LEAST_LAPS, type RunOrder } from '../vocabulary.js';
import { type ComparisonWishes, type CompleteWishes, completeWishes } from './comparisonWishes.js';
import { plannedPlacement } from './placement.js';
import { type PlannedOutlook, plannedOutlook } from './plannedOutlook.js';
import { type Remedy, remedies } from './remedies.js';
import { BLOCK_LAPS, wholeBlocks } from './runOrder.js';

export interface ComparisonPlan {
  /** The smallest design that keeps the promise; `null` when none does. */
  readonly design: {
    readonly series: number;
    readonly laps: number;
    readonly order: RunOrder;
  } | null;
  /** What that design gives, or the largest that was looked at. */
  readonly outlook: PlannedOutlook;
  /** Relative U from the certificate alone; `null` when none is stated. */
  readonly certificate_U: number | null;
  /** Single changes that would make the wish reachable with the largest design; empty when reached. */
  readonly remedies: readonly Remedy[];
  /** Fields that study.json has to hold for the analysis to reckon as planned. */
  readonly study: {
    readonly protocol: { readonly order: RunOrder; readonly placement?: 'jig' | 'by-hand' };
    readonly between_series_percent?: number;
  };
  /** What was assumed, in sentences. */
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
  const largest = largestDesigns(complete);
  const found = smallest(complete, largest);
  const outlook = found ?? nearest(largest);
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
      ...(complete.display === undefined
        ? ['The display steps are not said: taken as too fine to count.']
        : []),
    ],
    sentence:
      found !== null
        ? `${found.series} series of ${found.laps} laps: a reading corrected later, the head put up anew, is then known to ± ${percentText(wanted)} or better in ${hundred(outlook.probability)} of 100 such comparisons (half of them: ± ${percentText(outlook.reading_U)}), K itself to about ± ${percentText(outlook.factor_U)}.`
        : [
            `± ${percentText(wanted)} for a corrected reading cannot be promised: ${outlook.series} series of ${outlook.laps} laps, the best of what may be done, reach it in ${hundred(outlook.probability)} of 100 comparisons, not in ${hundred(probability)}.`,
            certificate_U === null
              ? ''
              : `The certificate alone gives ± ${percentText(certificate_U)}.`,
            `What would help: ${change.map((one) => one.words).join('; or ')}.`,
          ]
            .filter((part) => part !== '')
            .join(' '),
  };
}

/** Fewest laps altogether; of equals the one that is likelier to keep the promise. */
function smallest(
  wishes: CompleteWishes,
  largest: readonly PlannedOutlook[],
): PlannedOutlook | null {
  const { order, wanted } = wishes;
  const block = BLOCK_LAPS[order];
  let best: PlannedOutlook | null = null;
  for (const last of largest) {
    if (last.reading_U_promised > wanted) continue;
    let found = last;
    // Halved in whole blocks: more laps of one design never make it worse but by the luck of draws.
    let low = wholeBlocks(order, LEAST_LAPS) - block;
    while (found.laps - low > block) {
      const laps = wholeBlocks(order, Math.floor((low + found.laps) / 2));
      const tried = plannedOutlook(wishes, { series: last.series, laps });
      if (tried !== null && tried.reading_U_promised <= wanted) found = tried;
      else low = laps;
    }
    const fewer = best === null ? -1 : total(found) - total(best);
    if (best === null || fewer < 0 || (fewer === 0 && found.probability > best.probability)) {
      best = found;
    }
  }
  return best;
}

const total = ({ series, laps }: PlannedOutlook) => series * laps;

/** Each number of series with as many laps as it may have. */
function largestDesigns(wishes: CompleteWishes): readonly PlannedOutlook[] {
  const block = BLOCK_LAPS[wishes.order];
  const laps = Math.floor(wishes.most_laps / block) * block;
  return Array.from({ length: wishes.most_series }, (_, i) => i + 1).flatMap(
    (series) => plannedOutlook(wishes, { series, laps }) ?? [],
  );
}

/** The largest that comes nearest. */
const nearest = (largest: readonly PlannedOutlook[]): PlannedOutlook =>
  largest.reduce((a, b) => (b.reading_U_promised < a.reading_U_promised ? b : a));

/** Hundredths, never rounded up to a promise. */
const hundred = (probability: number) => Math.floor(100 * probability + 1e-9);
