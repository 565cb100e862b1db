/** Many readings corrected at once: the rows of a table, repeats and seatings put together. */
import { MeterpairError } from '../error.js';
import { groupedBy } from '../statistics/groupedBy.js';
import type { CorrectedReading, Factors } from '../vocabulary.js';
import { correct } from './correct.js';
import type { NewReading } from './newReading.js';
import type { ReadingRow, TypedRow } from './readingsTable.js';

/** What became of one row. */
export interface CorrectedRow {
  /** `null` where it cannot be corrected. */
  readonly corrected: CorrectedReading | null;
  /** Why it cannot; else the cautions, each once, with what the mean is made of in front. */
  readonly words: readonly string[];
}

/**
 * Corrects every row. Rows that share a group are readings of one power: their mean is corrected, and each
 * of them gets it, because scatter and placement average out and the rest does not. Within a group, rows that
 * share a seating were read with the head left where it was. A row that cannot be corrected says why and stops
 * no other.
 *
 * @param today day of readings whose row states none, ISO 8601
 */
export function correctTable(
  factors: Factors,
  rows: readonly TypedRow[],
  today: string,
): readonly CorrectedRow[] {
  const groups = groupedBy(
    rows.flatMap(({ reading }, i) =>
      reading === null ? [] : [[keyOf(reading, i), reading] as const],
    ),
  );
  const done = new Map(
    [...groups].map(([key, group]) => [key, correctGroup(factors, group, today)]),
  );
  return rows.map(({ reading, problem }, i): CorrectedRow => {
    if (reading === null) return { corrected: null, words: [`Not corrected. ${problem}`] };
    const found = done.get(keyOf(reading, i));
    return found ?? { corrected: null, words: [] };
  });
}

/** A row without a group stands alone. */
const keyOf = ({ group }: ReadingRow, i: number) => (group === '' ? `row ${i}` : `group ${group}`);

function correctGroup(factors: Factors, group: readonly ReadingRow[], today: string): CorrectedRow {
  const odd = disagreement(group);
  if (odd !== null) return { corrected: null, words: [`Not corrected. ${odd}`] };
  const seatings = [...new Set(group.map(({ seating }) => seating))].map((seating) =>
    group.filter((one) => one.seating === seating).map((one) => one.reading_mW - one.zero_mW),
  );
  const [{ wavelength_nm, read_at_s, setting_nm, date }] = group;
  const reading: NewReading = {
    reading_mW: seatings,
    wavelength_nm,
    date: date ?? today,
    ...(read_at_s === null ? {} : { read_at_s }),
    ...(setting_nm === null ? {} : { setting_nm }),
  };
  try {
    const corrected = correct(factors, reading);
    const mean =
      group.length === 1
        ? []
        : [
            `Mean of ${group.length} readings${seatings.length === 1 ? '' : `, the head put up ${seatings.length} times`}.`,
          ];
    return { corrected, words: [...mean, ...corrected.cautions.map(({ message }) => message)] };
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return { corrected: null, words: [`Not corrected. ${error.message.replaceAll('\n', ' ')}`] };
  }
}

/** What the rows of a group do not share; `null` when they may be averaged. */
function disagreement(group: readonly ReadingRow[]): string | null {
  const shared = ['wavelength_nm', 'read_at_s', 'setting_nm', 'date'] as const;
  const odd = shared.find((name) => new Set(group.map((one) => one[name])).size > 1);
  return odd === undefined
    ? null
    : `The rows of the group "${group[0].group}" are no readings of one power: they differ in ${odd}.`;
}
