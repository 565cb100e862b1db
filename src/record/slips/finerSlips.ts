/** Readings that a display of the stated step cannot have shown, through a whole series. */
import { extremes } from '../../statistics/summary.js';
import type { Study } from '../../vocabulary.js';
import { METERS, runsOn } from '../meters.js';
import { finerBy, shownIn } from './finerThanDisplay.js';
import { movePoint } from './typedNumber.js';
import type { WholeSlip } from './wholeSeries.js';

/** W typed as mW. */
const UNIT = 3;

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
