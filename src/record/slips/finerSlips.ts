/** Readings that a display of the stated step cannot have shown, through a whole series. */
import { extremes } from '../../statistics/summary.js';
import type { MeterRole, Series, Study } from '../../vocabulary.js';
import { METERS, runsOn } from '../meters.js';
import { decimalPlaces, movePoint, shownValue } from './typedNumber.js';
import type { WholeSlip } from './wholeSeries.js';

/** W typed as mW. */
const UNIT = 3;

/** What the display of a meter showed in the runs of a series that nobody left out. */
const shownIn = (series: Series, meter: MeterRole) =>
  runsOn(series.runs, meter)
    .filter((run) => run.exclude === null)
    .map((run) => shownValue(run.reading_mW, run.zero_mW));

/** By how many decimals most readings of a meter are finer than its step; 0 for none. */
export function finerBy(study: Study, series: Series, meter: MeterRole): number {
  const step = study[meter].resolution_mW;
  const shown = shownIn(series, meter);
  if (step === null || shown.length === 0) return 0;
  const beyond = shown.map((value) => Math.max(0, decimalPlaces(value) - decimalPlaces(step)));
  const most = beyond.filter((by) => by > 0).length > beyond.length / 2;
  // The finest of them: others end in zeros.
  return most ? extremes(beyond)[1] : 0;
}

/** Each meter of each series by itself: another unit where that explains it, else what nobody can tell. */
export function finerSlips(study: Study): WholeSlip[] {
  return study.series.flatMap((series) =>
    METERS.flatMap((meter): WholeSlip[] => {
      const by = finerBy(study, series, meter);
      if (by === 0 || runsOn(series.runs, meter).some((run) => run.checked)) return [];
      const { rated_max_mW: rated, resolution_mW: step } = study[meter];
      const inW = movePoint(extremes(shownIn(series, meter))[1], UNIT);
      const isUnit = by === UNIT && inW <= (rated ?? Infinity);
      const kind = isUnit ? 'unit' : 'other';
      return [{ series, kind, meter, move: isUnit ? UNIT : null, or: [], step_mW: step }];
    }),
  );
}
