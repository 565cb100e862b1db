/** Traces that end before their reading does: where it would have gone nobody knows. */
import { median } from 'simple-statistics';
import { formatNumber } from '../findings/formatNumber.js';
import { eachMeter } from '../record/meters.js';
import { COUNTS_AS_SETTLED, timeToSettle } from '../settle/missingFraction.js';
import type { StepResponseRefusal } from '../settle/stepResponse.js';
import type { MeterRole, Trace } from '../vocabulary.js';
import type { FittedTrace, TimeConstants } from './timeConstants.js';

/** A source that wanders may rise as much from the middle third of a trace to the last (own choice). */
const WANDERS = 0.02;
/** These refusals are not for a rise that goes on. */
const OVER: readonly string[] = ['overshoot', 'rise-not-sampled'] satisfies StepResponseRefusal[];

/** Of each meter, why its readings may lie anywhere below the power; `null` where they do not. */
export function stillRising(
  fits: readonly FittedTrace[],
  constants: TimeConstants,
  readAt: number | null,
): Readonly<Record<MeterRole, string | null>> {
  return eachMeter((meter) => {
    const constant = constants[meter];
    const found = fits.find(({ trace, fit }) => {
      if (trace.meter !== meter || fit.status === 'fitted') return false;
      if (OVER.includes(fit.reason) || !rises(trace)) return false;
      const [low, high] = fit.time_constant_bounds_s;
      if (constant !== null) {
        return low !== null && low > constant.value_s + 2 * constant.standard_uncertainty_s;
      }
      return high === null || readAt === null || readAt < timeToSettle(COUNTS_AS_SETTLED, high);
    });
    return found === undefined ? null : words(found.trace);
  });
}

/** Whether the last third of a trace lies above the middle one. */
function rises({ reading_mW }: Trace): boolean {
  if (reading_mW.length < 2) return false;
  const third = Math.ceil(reading_mW.length / 3);
  const last = median(reading_mW.slice(-third));
  const before = median(reading_mW.slice(-2 * third, -third));
  return last > 0 && last - before > WANDERS * last;
}

function words({ series, run, meter, elapsed_s }: Trace): string {
  return `the trace of run ${run} in the series "${series}" (${meter}) still rose at its end, ${formatNumber(elapsed_s.at(-1) ?? 0)} s, and tells no time constant: the readings of the ${meter} may lack any part of the power. Record a trace until the reading stays, at least three time constants, and read no earlier than it does.`;
}
