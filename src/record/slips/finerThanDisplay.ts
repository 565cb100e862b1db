/** Readings with more decimals than the stated step of their display. */
import { extremes } from '../../statistics/summary.js';
import type { MeterRole, Series, Study } from '../../vocabulary.js';
import { runsOn } from '../meters.js';
import { decimalPlaces, isWhole, shownValue } from './typedNumber.js';

/** No display shows more digits: a number that has them was computed, and they say nothing of a step. */
const DIGITS = 7;

/** What the display of a meter showed in the runs of a series that nobody left out. */
export const shownIn = (series: Series, meter: MeterRole) =>
  runsOn(series.runs, meter)
    .filter((run) => run.exclude === null)
    .map((run) => shownValue(run.reading_mW, run.zero_mW));

/** By how many decimals most readings of a meter are finer than its step; 0 for none. */
export function finerBy(study: Study, series: Series, meter: MeterRole): number {
  const step = study[meter].resolution_mW;
  if (step === null) return 0;
  const places = decimalPlaces(step);
  const counted = runsOn(series.runs, meter).filter((run) => run.exclude === null);
  const odd = counted.filter(
    (run) => !isWhole((run.reading_mW + (run.zero_mW ?? 0)) * 10 ** places),
  );
  // Most often their size tells, which is quicker than their digits.
  if (odd.length <= counted.length / 2) return 0;
  const beyond = shownIn(series, meter).map((value) =>
    Number(value.toPrecision(DIGITS)) === value ? decimalPlaces(value) - places : 0,
  );
  const most = beyond.filter((by) => by > 0).length > beyond.length / 2;
  // The finest of them: others end in zeros.
  return most ? extremes(beyond)[1] : 0;
}
