import { formatInterval, formatNumber } from '../../findings/formatNumber.js';
import type { Result, SeriesResult } from '../../vocabulary.js';

/** How each series drifted, and what the order of runs would have made of it. */
export function driftSentences(result: Result): readonly string[] {
  return result.series.map((series) => `${series.id}: ${drift(series)}`);
}

function drift({ drift }: SeriesResult): string {
  if (drift.percent_per_run === null) return 'the drift cannot be told from these runs.';
  const interval = formatInterval(...drift.percent_per_run_interval);
  const perRun =
    `the power changed by ${formatNumber(drift.percent_per_run, { digits: 2 })} % a run ` +
    `(interval ${interval} %)`;
  const wander = drift.wander_percent_per_run ?? 0;
  const wandered =
    wander === 0
      ? ''
      : ` Beside that the source wandered, by ${formatNumber(wander, { digits: 2 })} % from run to run (standard deviation); the factor leans on neighbouring runs for it.`;
  if (drift.order_bias_percent === null) return `${perRun}.${wandered}`;
  const step = formatNumber(drift.order_bias_percent, { digits: 2 });
  return (
    `${perRun}. The order of the runs would put ${step} % into a plain mean of the lap ` +
    `differences; the factor is free of it as far as the drift is that smooth.${wandered}`
  );
}
