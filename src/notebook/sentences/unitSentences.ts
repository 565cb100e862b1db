import type { SeveralUnitsResult } from '../../factors/severalUnits.js';
import {
  formatInterval,
  formatNumber,
  formatProbability,
  formatRelative,
} from '../../findings/formatNumber.js';
import { withSign } from '../../findings/words.js';
import type { Interval } from '../../vocabulary.js';

/** How far units of one model lie apart, and what that says of a further one. */
export function unitSentences(found: SeveralUnitsResult): readonly string[] {
  const alike =
    found.p === null
      ? ''
      : ` If all units were alike, the comparisons would scatter so much with p ${withSign(formatProbability(found.p))}.`;
  return [
    found.why,
    `The interval of the mean, ${formatInterval(...found.meanInterval)}, is about the production and not about any unit.`,
    `The measured factors scatter by ${formatRelative(found.relativeSd)} %; without the comparisons' own uncertainty ${formatRelative(found.betweenUnitsRelativeSd)} % remain for the units.${alike}`,
  ];
}

/** How many units that nobody compared lie in each of the two intervals. */
export function furtherUnitSentences(
  found: SeveralUnitsResult,
  further: readonly number[],
): readonly string[] {
  const within = ([low, high]: Interval) =>
    further.filter((factor) => factor >= low && factor <= high).length;
  return [
    `Of ${formatNumber(further.length)} further units, ${within(found.meanInterval)} lie in the interval of the mean and ${within(found.furtherUnit)} in the interval for a further unit.`,
  ];
}
