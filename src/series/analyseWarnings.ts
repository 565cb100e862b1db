/** What the reader of a result has to know about its series and displays. */

import { counted, formatNumber } from '../findings/formatNumber.js';
import type { DisplayStep } from '../readings/displayStep.js';
import { METERS } from '../record/meters.js';
import { LEAST_LAPS, type SeriesResult, type Warning } from '../vocabulary.js';

/** Order bias that is worth a word: a tenth of a percent. */
const ORDER_BIAS_PERCENT = 0.1;

/** Displays whose step nobody stated. */
export function stepWarnings(displays: {
  readonly reference: DisplayStep;
  readonly candidate: DisplayStep;
}): Warning[] {
  return METERS.flatMap((meter) => {
    const { step_mW, stated } = displays[meter];
    if (stated) return [];
    return [
      {
        code: 'resolution-not-stated',
        message:
          step_mW === null
            ? `The display step of the ${meter} is not stated and cannot be seen in its readings: its rounding is not in the uncertainty.`
            : `The display step of the ${meter} is not stated; ${step_mW} mW is taken, the step that its readings show.`,
      },
    ];
  });
}

export function seriesWarnings(results: readonly SeriesResult[]): Warning[] {
  return results.flatMap((result) => {
    const warnings: Warning[] = [];
    const say = (code: string, message: string) =>
      warnings.push({ code, message, series: result.id });
    for (const flag of result.flagged) {
      const out = result.excluded.some((one) => one.run === flag.run && one.kind === 'outlier');
      const then = out ? 'Left out, as the protocol asks.' : 'Flagged, and kept.';
      say('odd-run', `${flag.message}. ${then} Leave it out only for a physical reason.`);
    }
    const bias = result.drift.order_bias_percent;
    if (bias !== null && Math.abs(bias) >= ORDER_BIAS_PERCENT) {
      say(
        'order-bias',
        `The order of the runs biases the plain mean difference by ${formatNumber(bias, { places: 2, unit: '%' })}, one meter being always later in the drift. The factor is free of it as far as the drift is as smooth as the model takes it; the differences and limits of agreement are not.`,
      );
    }
    const bracketed = result.factor_bracketed;
    const { low, high } = result.factor;
    if (low !== null && high !== null && bracketed.low !== null && bracketed.high !== null) {
      if (bracketed.low > high || bracketed.high < low) {
        say(
          'estimates-differ',
          'Drift model and bracketing give different factors: the drift is not smooth, or runs are odd.',
        );
      }
    }
    const alone = METERS.filter((role) => result.used[role] === 1);
    if (result.factor.value !== null && alone.length > 0) {
      say(
        'one-run-of-a-meter',
        `There is only one run of the ${alone.join(' and one of the ')}: its scatter cannot be seen, and is taken to be that of the other meter.`,
      );
    }
    if (result.laps < LEAST_LAPS && result.laps > 0) {
      say(
        'few-laps',
        `${counted(result.laps, 'lap', 'laps')}: intervals are wide, and cold starts cannot be told. Take at least ${LEAST_LAPS}.`,
      );
    }
    return warnings;
  });
}

/** Series that hold more than the wanted line, of sources that were also measured without it. */
export function unisolatedWarnings(series: ReadonlySet<string>): Warning[] {
  return [...series].map((id) => ({
    code: 'infrared-in-the-beam',
    message:
      'This source was also measured behind a filter that leaves its line alone. This series holds other light too, so it enters neither the factor of the wavelength nor the limits of agreement; its readings still count for the hazard.',
    series: id,
  }));
}
