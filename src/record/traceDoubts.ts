/** Traces whose numbers cannot be what they are taken for: times of day, another unit, another run. */
import type { ErrorParts } from '../error.js';
import { significant } from '../findings/formatNumber.js';
import { extremes } from '../statistics/summary.js';
import type { Series, Trace, Warning } from '../vocabulary.js';
import { shownValue } from './slips/typedNumber.js';

/** No run begins so long after its source was switched on, in s. */
const DAY_S = 86_400;
/** Readings this far apart show nothing of a sensor, in s (common practice, no source). */
const FAR_APART_S = 60;
/** A sensor that is read early or a source that droops makes no such difference. */
const OTHER_LEVEL = 3;

export function traceFaults(traces: readonly Trace[]): ErrorParts[] {
  return traces.flatMap(({ series, run, elapsed_s: [first = 0] }) =>
    Math.abs(first) <= DAY_S
      ? []
      : [
          {
            code: 'cell-out-of-range',
            file: 'traces.csv',
            column: 'elapsed_s',
            message: `The trace of run ${run} in the series "${series}" begins more than a day off its switch-on.`,
            found: `${first} s`,
            expected:
              'the seconds since the source was switched on in this run: subtract that moment',
          },
        ],
  );
}

export function traceWarnings(traces: readonly Trace[], series: readonly Series[]): Warning[] {
  return traces.flatMap((trace) => {
    const run = series
      .find(({ id }) => id === trace.series)
      ?.runs.find((one) => one.run === trace.run);
    const shown = run === undefined ? 0 : shownValue(run.reading_mW, run.zero_mW);
    const name = `trace of run ${trace.run} (${trace.meter})`;
    const { elapsed_s: times } = trace;
    const apart = ((times.at(-1) ?? 0) - (times[0] ?? 0)) / Math.max(1, times.length - 1);
    const [, most] = extremes(trace.reading_mW);
    const other = shown > 0 && (most > OTHER_LEVEL * shown || OTHER_LEVEL * most < shown);
    const found: readonly (readonly [code: string, isSo: boolean, message: string])[] = [
      [
        'trace-times',
        apart > FAR_APART_S,
        `The readings of the ${name} stand ${significant(apart, 3)} s apart, too far to show how a sensor settles. elapsed_s counts seconds: are these milliseconds?`,
      ],
      [
        'trace-level',
        other,
        `The ${name} goes up to ${significant(most, 3)} mW, and runs.csv has ${significant(shown, 3)} mW for this run: look at the unit of reading_mW in traces.csv, and whether the trace is of this run.`,
      ],
    ];
    return found.flatMap(([code, isSo, message]) =>
      isSo ? [{ code, message, series: trace.series }] : [],
    );
  });
}
