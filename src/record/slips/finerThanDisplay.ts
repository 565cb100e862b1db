/** Readings with more decimals than the stated step of their display. */
import { extremes } from '../../statistics/summary.js';
import type { MeterRole, Series, Study } from '../../vocabulary.js';
import { runsOn } from '../meters.js';
import { decimalPlaces, shownValue } from './typedNumber.js';

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
  const shown = shownIn(series, meter);
  if (step === null || shown.length === 0) return 0;
  const beyond = shown.map((value) =>
    Number(value.toPrecision(DIGITS)) === value ? decimalPlaces(value) - decimalPlaces(step) : 0,
  );
  const most = beyond.filter((by) => by > 0).length > beyond.length / 2;
  // The finest of them: others end in zeros.
  return most ? extremes(beyond)[1] : 0;
}
