import { eachMeter } from '../record/meters.js';
import { type Random, seededRandom } from '../statistics/random.js';
import type { MeterRole } from '../vocabulary.js';
import type { CompleteWishes } from './comparisonWishes.js';
import { type EffectVariance, effectVariance } from './designUncertainty.js';
import { plannedPlacement } from './placement.js';
import { knownParts, type PlannedParts, plannedParts } from './plannedReading.js';
import { runOrder } from './runOrder.js';
import { DRIFT_PER_RUN, type ShownReadings, shownReadings, standsStill } from './shownReadings.js';

/** Series × laps. */
export interface SizeOfDesign {
  readonly series: number;
  readonly laps: number;
}

const SEED = 20_261;

/**
 * What the U of comparisons of one design will be made of, one entry for each of many comparisons that
 * might be. It is random, because the scatter, and with several series their spread, is estimated from what
 * the comparison happens to show: each meter's s² as σ²·χ²(ν)/ν, or from readings drawn one by one where
 * its display may stand still (`shownReadings`); each series off by its placement and its own scatter.
 *
 * The same seed for every design, so that designs are compared on the same luck. Rounding that does not
 * average out is taken as the same in every series.
 *
 * @returns put together when asked, so that not all lie in memory; `null` when so few runs leave no degree of freedom
 * @see JCGM 100:2008, 4.2.2 (s² of normal readings is distributed as χ²), E.4.3
 */
export function plannedSpread(
  wishes: CompleteWishes,
  { series, laps }: SizeOfDesign,
  draws: number,
): readonly (() => PlannedParts)[] | null {
  const effect = effectVariance(wishes.order, laps);
  if (effect === null) return null;
  const random = seededRandom(SEED);
  const { sd: placement, stated } = plannedPlacement(wishes.placement);
  const word = typeof wishes.placement === 'string' ? wishes.placement : null;
  const known = knownParts(wishes);
  const half = effect.dof / 2;
  const shows = eachMeter((meter) => meterOf(wishes, meter, { laps, effect }));
  const estimate = (id: number, level: Readonly<Record<MeterRole, number>>) => {
    const placed = placement * random.normal();
    const reference = shows.reference(level.reference, random);
    const candidate = shows.candidate(level.candidate - placed, random);
    const own = effect.of(Math.sqrt(reference.variance), Math.sqrt(candidate.variance));
    return {
      id: String(id),
      logFactor: placed + reference.error - candidate.error,
      standardUncertainty: own.standard_uncertainty,
      dof: own.dof,
      reference,
      candidate,
    };
  };
  return Array.from({ length: draws }, () => {
    // Where the power lies within a step is nobody's choice, and the same for all series.
    const level = eachMeter((meter) => random.uniform() * stepOf(wishes, meter));
    const drawn = Array.from({ length: series }, (_, i) => estimate(i, level));
    const mean = (meter: MeterRole, what: 'variance' | 'rounding') =>
      drawn.reduce((sum, one) => sum + one[meter][what], 0) / series;
    const shown = {
      series: drawn,
      reading: {
        sd: Math.sqrt(mean('candidate', 'variance')),
        dof: Math.max(1, series * half),
      },
      rounding: eachMeter((meter) => mean(meter, 'rounding')),
    };
    return () => plannedParts(wishes, shown, stated, word, known);
  });
}

/**
 * What a meter shows in a series of so many laps, for where the power lies within a step of its display:
 * scatter as χ² has it, or readings drawn one by one where the display may stand still.
 */
function meterOf(
  wishes: CompleteWishes,
  meter: MeterRole,
  { laps, effect }: { readonly laps: number; readonly effect: EffectVariance },
): (at: number, random: Random) => ShownReadings {
  const sd = Math.hypot(wishes.noise[meter], wishes.source_noise);
  const step = stepOf(wishes, meter);
  if (step > 0 && standsStill(sd, step)) {
    const places = runOrder(wishes.order, laps).flatMap((one, i) => (one === meter ? [i] : []));
    return (at, random) => {
      const levels = places.map((i) => (at + DRIFT_PER_RUN * i) / step);
      return shownReadings({ levels, sd, step }, random);
    };
  }
  // Rounding is one more noise.
  const sigma = Math.hypot(sd, step / Math.sqrt(12));
  const half = effect.dof / 2;
  const toMean = effect.factors[meter === 'reference' ? 0 : 1];
  return (_, random) => ({
    variance: sigma ** 2 * (random.chiSquare(half) / half),
    error: toMean * sigma * random.normal(),
    rounding: 0,
  });
}

/** Step of the display, relative; 0 where it is not said. */
const stepOf = ({ display }: CompleteWishes, meter: MeterRole): number =>
  display === undefined ? 0 : (display.step_mW[meter] ?? 0) / display.level_mW;
