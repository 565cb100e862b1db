import { argumentWrong } from '../../error.js';
import { formatNumber } from '../../findings/formatNumber.js';
import { type PrecisionInput, precisionOfThree } from '../../opinions/threeInstruments.js';
import { standardDeviation } from '../../statistics/summary.js';
import type { TableRow } from '../tableHtml.js';

/** Name and values of one instrument, one value an item. */
type Instrument = PrecisionInput['instruments'][number];

/** Parts of the variance of the differences that the first of two instruments may have. */
const PARTS = [0, 0.5, 1];

/**
 * What two instruments on the same items show of their scatter: its sum of squares and nothing else, so
 * that every split of it fits the readings equally well.
 *
 * @throws argument-wrong for values that are not above 0 or not as many, too-few-values below two
 */
export function twoInstrumentRows(first: Instrument, second: Instrument): readonly TableRow[] {
  if (first.values.length !== second.values.length) {
    throw argumentWrong('Both instruments need one value per item.', second.values.length);
  }
  const logs = first.values.map((value, i) => Math.log(value / second.values[i]));
  if (logs.some((value) => !Number.isFinite(value))) {
    throw argumentWrong('Ratios need values above 0.');
  }
  const total = standardDeviation(logs);
  const percent = (part: number) => formatNumber(100 * total * Math.sqrt(part), { digits: 2 });
  return PARTS.map((part) => ({
    [`Scatter of ${first.name} in %`]: percent(part),
    [`Scatter of ${second.name} in %`]: percent(1 - part),
    'Scatter of the differences in %': percent(1),
  }));
}

/**
 * The scatter of three instruments told apart, from the first few items and from more.
 *
 * @param counts how many items to use, a row each
 * @throws argument-wrong, too-few-values as `precisionOfThree`
 */
export function threeInstrumentRows(
  instruments: readonly Instrument[],
  counts: readonly number[],
): readonly TableRow[] {
  return counts.map((count) => {
    const found = precisionOfThree({
      instruments: instruments.map(({ name, values }) => ({
        name,
        values: values.slice(0, count),
      })),
    });
    return Object.fromEntries([
      ['Items', found.items],
      ...found.instruments.map(
        ({ name, standardDeviation: sd }) =>
          [
            `${name} in %`,
            sd === null ? 'variance negative' : formatNumber(100 * sd, { digits: 2 }),
          ] as const,
      ),
    ]);
  });
}
