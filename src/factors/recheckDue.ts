/** Whether the day of factors fits the day of a reading. */
import { isBefore, monthsBetween, monthsLater } from '../record/days.js';
import type { Factors, Warning } from '../vocabulary.js';

/** Common practice, no source. */
const USUAL_MONTHS = 12;

/**
 * A caution where the comparison should have been made again before a day, where it came only after it, and
 * where its day is not known.
 */
export function recheckDue(
  { date, recheck_after_months: months = USUAL_MONTHS }: Factors,
  day: string,
): readonly Warning[] {
  if (date === null) {
    return [
      {
        code: 'factors-undated',
        message:
          'These factors do not say of which day they are: whether the comparison should have been made again before this reading cannot be told.',
      },
    ];
  }
  if (isBefore(day, date)) {
    return [
      {
        code: 'reading-before-comparison',
        message: `This reading is of ${day}, before the comparison of ${date}: whether the candidate was then what the comparison found is not known, and U does not hold that.`,
      },
    ];
  }
  if (Date.parse(day) <= Date.parse(monthsLater(date, months))) return [];
  return [
    {
      code: 'recheck-due',
      message: `The factors are of ${date}, ${monthsBetween(date, day)} months before this reading, and the comparison should be made again after ${months}: the candidate may have changed since, which U does not hold.`,
    },
  ];
}
