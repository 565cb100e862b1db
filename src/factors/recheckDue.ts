/** Whether factors are older than a comparison should be. */
import { monthsBetween, monthsLater } from '../record/days.js';
import type { Factors, Warning } from '../vocabulary.js';

/** Common practice, no source. */
const USUAL_MONTHS = 12;

/** A caution where the comparison should have been made again before a day; none without its date. */
export function recheckDue(
  { date, recheck_after_months: months = USUAL_MONTHS }: Factors,
  day: string,
): readonly Warning[] {
  if (date === null || Date.parse(day) <= Date.parse(monthsLater(date, months))) return [];
  return [
    {
      code: 'recheck-due',
      message: `The factors are of ${date}, ${monthsBetween(date, day)} months before this reading, and the comparison should be made again after ${months}: the candidate may have changed since, which U does not hold.`,
    },
  ];
}
