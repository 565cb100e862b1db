import { formatNumber } from '../findings/formatNumber.js';
import { METERS } from '../record/meters.js';
import type { Series, Study } from '../vocabulary.js';

/**
 * What has to be known before the next switch-on: a display that showed more than the label of the
 * source promises, or more than a meter is rated for. Runs that are left out count, and so do peaks.
 */
export function alarms(study: Study, series: Series): readonly string[] {
  const { runs, source: name } = series;
  const source = study.sources.find((one) => one.name === name);
  const same = study.series.filter((one) => one.source === name).flatMap((one) => one.runs);
  const highest = Math.max(...same.map((run) => Math.max(run.reading_mW, run.peak_mW ?? 0)));
  const label = source?.label_max_mW ?? null;
  const shown = formatNumber(highest, { digits: 3, unit: 'mW' });
  const rated = METERS.filter((meter) => {
    const most = study[meter].rated_max_mW;
    return (
      most !== null &&
      runs.some(
        (run) =>
          run.meter === meter &&
          Math.max(run.reading_mW, run.peak_mW ?? 0) + (run.zero_mW ?? 0) > most,
      )
    );
  });
  return [
    ...(label !== null && highest > label
      ? [
          `"${name}" was seen at ${shown}, and its label says ${label} mW. Check eyewear and beam stop for that before the next switch-on.`,
        ]
      : []),
    ...rated.map(
      (meter) =>
        `The ${meter} showed more than it is rated for (${study[meter].rated_max_mW} mW): its head may be damaged. Do not go on like this.`,
    ),
  ];
}
