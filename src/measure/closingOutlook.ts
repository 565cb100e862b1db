/** The planned laps are done: is that enough, and what would more of them bring? */
import { counted, formatNumber, percentText } from '../findings/formatNumber.js';
import { type CompleteWishes, completeWishes } from '../plan/comparisonWishes.js';
import { type PlannedOutlook, plannedOutlook } from '../plan/plannedOutlook.js';
import { wholeBlocks } from '../plan/runOrder.js';
import { meterAt } from '../readings/certificate.js';
import { runsOn } from '../record/meters.js';
import { keptLaps } from '../series/lapPairs.js';
import { groupedBy } from '../statistics/groupedBy.js';
import type { MeterRole, RunOrder, Series, Study } from '../vocabulary.js';
import type { Bench } from './bench.js';
import { modelSoFar } from './repeatability.js';
import { orderOf } from './seriesOrder.js';

export interface ClosingOutlook {
  /** Laps to add so that the wanted U is promised; 0: none needed; `null`: no number of them does. */
  readonly more: number | null;
  /** Laps that one block of the order has: the least that can be added. */
  readonly block: number;
  readonly sentences: readonly string[];
}

/** Comparisons drawn for each number of laps: a guide, not a promise to two digits. */
const DRAWS = 500;
const MOST_LAPS = 40;

/**
 * Asks the planner what this series gives with the scatter that it has shown, and with more laps.
 * K takes no part in it: whether to go on is decided by the repeatability alone.
 *
 * @param wanted U of a later reading, corrected, as a fraction
 */
export function closingOutlook(
  study: Study,
  series: Series,
  bench: Pick<Bench, 'groups' | 'settings'>,
  wanted: number,
): ClosingOutlook {
  const excluded = series.runs.filter(({ exclude }) => exclude !== null);
  const laps = keptLaps(series, excluded).length;
  const order = orderOf(
    series.runs.map(({ meter }) => meter),
    study.protocol.order,
  );
  const block = wholeBlocks(order, 1);
  if (series.kind === 'setting') return { block, more: 0, sentences: [settingsText(series)] };
  const beginning = [`${laps} laps of "${series.id}" count.`];
  const wishes = wishesOf(study, series, order, wanted);
  const seatings = seatingsOf(bench, series);
  const at = (count: number) =>
    wishes === null || count < 1
      ? null
      : plannedOutlook(wishes, { series: seatings, laps: count }, DRAWS);
  const now = at(laps);
  if (now === null) {
    const few = 'They are too few to say what a corrected reading will be known to.';
    return { block, more: block, sentences: [...beginning, few] };
  }
  const { more, best } = search({ now, laps, block, order, wanted, at });
  return {
    block,
    more,
    sentences: [
      ...beginning,
      `${seatings === 1 ? 'With them' : `With ${seatings} such series`} a later reading, corrected, will be known to ± ${percentText(now.reading_U_promised)} in 80 of 100 comparisons; wanted is ± ${percentText(wanted)}.`,
      whatMoreBrings(more, best, study),
    ],
  };
}

/** How often each setting was read. */
function settingsText({ id, runs }: Series): string {
  const kept = runs.filter(({ exclude }) => exclude === null);
  const counts = [...groupedBy(kept.map((run) => [run.setting_nm, run]))].map(
    ([nm, own]) => `${counted(own.length, 'run', 'runs')} at ${formatNumber(nm)} nm`,
  );
  return `"${id}" compares wavelength settings of one meter: ${counts.join(', ')}.`;
}

interface Search {
  readonly now: PlannedOutlook;
  readonly laps: number;
  readonly block: number;
  readonly order: RunOrder;
  readonly wanted: number;
  readonly at: (laps: number) => PlannedOutlook | null;
}

/** The fewest whole blocks that are enough, or the best of all that may be. */
function search({ now, laps, block, order, wanted, at }: Search): {
  readonly more: number | null;
  readonly best: PlannedOutlook;
} {
  let best = now;
  if (now.reading_U_promised <= wanted) return { more: 0, best };
  for (let total = wholeBlocks(order, laps + 1); total <= MOST_LAPS; total += block) {
    const outlook = at(total);
    if (outlook === null) continue;
    if (outlook.reading_U_promised < best.reading_U_promised) best = outlook;
    if (outlook.reading_U_promised <= wanted) return { more: total - laps, best: outlook };
  }
  return { more: null, best };
}

function whatMoreBrings(more: number | null, best: PlannedOutlook, study: Study): string {
  if (more === 0) return 'That is enough: more laps are not needed.';
  const then = `± ${percentText(best.reading_U_promised)}`;
  if (more !== null) return `${more} more laps would bring ${then}.`;
  const stated = study.reference.expanded_uncertainty_percent;
  return `No number of laps up to ${MOST_LAPS} brings that; the best of them gives ${then}. ${stated === null ? 'The placement of the heads and the displays' : 'The certificate of the reference, the placement of the heads and the displays'} do not shrink with laps.`;
}

/** How often the heads are put up on this source, as far as the table plans it. */
function seatingsOf({ groups }: Pick<Bench, 'groups'>, { source, wavelength_nm }: Series): number {
  const same = groups.filter(({ rows }) =>
    rows.some((row) => row.source === source && row.wavelength_nm === wavelength_nm),
  );
  return Math.max(1, same.length);
}

/** What the planner has to know, from what the runs have shown; `null` while they are too few. */
function wishesOf(
  study: Study,
  series: Series,
  order: RunOrder,
  wanted: number,
): CompleteWishes | null {
  const model = modelSoFar(series);
  if (model === null) return null;
  const reference = meterAt(study.reference, series.wavelength_nm);
  const stated = reference.expanded_uncertainty_percent;
  const step = (meter: MeterRole) => study[meter].resolution_mW;
  const level = (meter: MeterRole) => {
    const own = runsOn(model.runs, meter);
    return own.reduce((sum, run) => sum + run.reading_mW, 0) / own.length;
  };
  const steps = { reference: step('reference'), candidate: step('candidate') };
  const shown = steps.reference !== null && steps.candidate !== null;
  // The scatter holds the rounding of the displays, which the planner adds itself.
  const noise = (meter: MeterRole, variance: number) =>
    Math.sqrt(Math.max(0, variance - (shown ? ((steps[meter] ?? 0) / level(meter)) ** 2 / 12 : 0)));
  const placement = study.between_series ?? study.protocol.placement ?? undefined;
  return completeWishes({
    wanted,
    confidence: study.confidence,
    noise: {
      reference: noise('reference', model.fit.variances[0]),
      candidate: noise('candidate', model.fit.variances[1]),
    },
    order,
    ...(placement === undefined ? {} : { placement }),
    ...(stated === null
      ? {}
      : {
          certificate: {
            expanded_uncertainty: stated / 100,
            coverage_factor: reference.coverage_factor,
          },
        }),
    ...(steps.reference === null || steps.candidate === null
      ? {}
      : {
          display: {
            level_mW: level('reference'),
            step_mW: { reference: steps.reference, candidate: steps.candidate },
            zero_recorded: series.runs.every(({ zero_mW }) => zero_mW !== null),
          },
        }),
  });
}
