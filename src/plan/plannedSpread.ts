import { seededRandom } from '../statistics/random.js';
import { lastingRounding, scatterBeforeRounding } from '../statistics/roundedDisplay.js';
import type { MeterRole } from '../vocabulary.js';
import type { CompleteWishes } from './comparisonWishes.js';
import { effectVariance } from './designUncertainty.js';
import { plannedPlacement } from './placement.js';
import { type PlannedParts, plannedParts } from './plannedReading.js';

/** Series × laps. */
export interface SizeOfDesign {
  readonly series: number;
  readonly laps: number;
}

const SEED = 20_261;

/**
 * What the U of comparisons of one design will be made of, one entry for each of many comparisons that
 * might be. It is random, because the scatter, and with several series their spread, is estimated from what
 * the comparison happens to show: each meter's s² as σ²·χ²(ν)/ν, each series off by its placement and
 * its own scatter.
 *
 * The same seed for every design, so that designs are compared on the same luck. Rounding that is
 * larger than the scatter is taken as the same in every series: the readings stand still.
 *
 * @returns `null` when so few runs leave no degree of freedom
 * @see JCGM 100:2008, 4.2.2 (s² of normal readings is distributed as χ²), E.4.3
 */
export function plannedSpread(
  wishes: CompleteWishes,
  { series, laps }: SizeOfDesign,
  draws: number,
): readonly PlannedParts[] | null {
  const effect = effectVariance(wishes.order, laps);
  if (effect === null) return null;
  const random = seededRandom(SEED);
  const { sd: placement, stated } = plannedPlacement(wishes.placement);
  const word = typeof wishes.placement === 'string' ? wishes.placement : null;
  const sigma = {
    reference: shownScatter(wishes, 'reference'),
    candidate: shownScatter(wishes, 'candidate'),
  };
  const half = effect.dof / 2;
  const estimate = (id: number) => {
    const trueU = Math.hypot(
      effect.factors[0] * sigma.reference,
      effect.factors[1] * sigma.candidate,
    );
    const reference = sigma.reference ** 2 * (random.chiSquare(half) / half);
    const candidate = sigma.candidate ** 2 * (random.chiSquare(half) / half);
    const own = effect.of(Math.sqrt(reference), Math.sqrt(candidate));
    return {
      id: String(id),
      logFactor: placement * random.normal() + trueU * random.normal(),
      standardUncertainty: own.standard_uncertainty,
      dof: own.dof,
      reference,
      candidate,
    };
  };
  return Array.from({ length: draws }, () => {
    const drawn = Array.from({ length: series }, (_, i) => estimate(i));
    const mean = (meter: MeterRole) => drawn.reduce((sum, one) => sum + one[meter], 0) / series;
    return plannedParts(
      wishes,
      {
        series: drawn,
        reading: { sd: Math.sqrt(mean('candidate')), dof: Math.max(1, series * half) },
        rounding: {
          reference: lastingPart(wishes, 'reference', mean('reference')),
          candidate: lastingPart(wishes, 'candidate', mean('candidate')),
        },
      },
      stated,
      word,
    );
  });
}

/** Relative standard deviation of the readings that a display shows: meter, source, rounding. */
function shownScatter({ noise, source_noise, display }: CompleteWishes, meter: MeterRole): number {
  const sd = Math.hypot(noise[meter], source_noise);
  if (display === undefined) return sd;
  const step = display.step_mW[meter] / display.level_mW;
  // Averaged over where the power lies within a step: σ² + 1/12 − lasting² in steps².
  return Math.hypot(sd, step * Math.sqrt(Math.max(0, 1 / 12 - lastingRounding(sd / step) ** 2)));
}

/** The part of the rounding that does not average out, relative, for the scatter that is seen. */
function lastingPart({ display }: CompleteWishes, meter: MeterRole, variance: number): number {
  if (display === undefined) return 0;
  const step = display.step_mW[meter] / display.level_mW;
  const steps = variance / step ** 2;
  // Beyond a step and a half of scatter less than e⁻⁴⁰ of the rounding stands still.
  return steps > 2.5 ? 0 : step * lastingRounding(scatterBeforeRounding(steps));
}
