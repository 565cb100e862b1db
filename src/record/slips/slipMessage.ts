/** What a suspect says. */
import type { Suspect } from '../../vocabulary.js';
import type { WholeSlip } from './wholeSeries.js';

type Unsaid = Omit<Suspect, 'message' | 'quantity'>;

const WHAT_TO_DO =
  'mend it in runs.csv, give a reason in the column exclude, or mark it in the column checked';

const REASONS: Readonly<Record<'decimal-place' | 'digits' | 'unit', string>> = {
  'decimal-place': 'with the decimal point in another place',
  digits: 'with two digits exchanged',
  unit: 'in another unit',
};

/** One number of an entry. */
export function entryMessage(slip: Unsaid & Required<Pick<Suspect, 'quantity'>>): string {
  const { row, series, meter, kind, quantity, found, likely } = slip;
  const what = `runs.csv, row ${row}: the ${quantity} ${found} mW of the ${meter} in the series "${series}"`;
  if (kind === 'decimal-place' || kind === 'digits' || kind === 'unit') {
    return `${what} looks like ${likely} mW ${REASONS[kind]}; ${WHAT_TO_DO}.`;
  }
  return `${what} is far from the runs around it, and no single slip of the pen explains it; ${WHAT_TO_DO}.`;
}

/** A lap whose meters are exchanged. */
export function lapMessage(slip: Unsaid): string {
  const { rows, series, meter, found, likely } = slip;
  return `runs.csv, ${rowsText(rows)}: the two meters of this lap of the series "${series}" look exchanged, ${found} mW was typed for the ${meter} and ${likely} mW is likely; ${WHAT_TO_DO}.`;
}

export function repeatedMessage(row: number, of: number, series: string): string {
  return `runs.csv, row ${row}: this row of the series "${series}" is the same as row ${of} and looks written twice; delete one of them, give a reason in the column exclude, or mark it in the column checked.`;
}

/** All entries of a series, or of one meter in it. */
export function wholeMessage(slip: Unsaid & Pick<WholeSlip, 'or' | 'step_mW'>): string {
  const { rows, series, meter, kind, found, likely, or, step_mW: step = null } = slip;
  const place = `runs.csv, ${rowsText(rows)}:`;
  if (step !== null) {
    return `${place} the readings of the ${meter} in the series "${series}" are finer than its display, ${found} mW at a step of ${step} mW: they look typed ${REASONS.unit}, the first for ${likely} mW; ${WHAT_TO_DO.replace(', or', ',')}, or state the right resolution_mW in study.json.`;
  }
  if (kind === 'exchanged') {
    const other =
      or.length === 0
        ? `${found} mW was typed for the ${meter} where ${likely} mW is likely, as the other series of this wavelength show`
        : `either here or in ${or.map((id) => `"${id}"`).join(', ')}, and the data do not tell which`;
    return `${place} the two meters look exchanged in the whole series "${series}", ${other}; ${WHAT_TO_DO}.`;
  }
  if (kind === 'unit' || kind === 'decimal-place') {
    return `${place} all readings of the ${meter} in the series "${series}" look typed ${REASONS[kind]}, the first as ${found} mW where ${likely} mW is likely; ${WHAT_TO_DO}.`;
  }
  return `${place} the readings of the ${meter} in the series "${series}" are out of all proportion to the other meter's, and no single slip of the pen explains it; ${WHAT_TO_DO}.`;
}

function rowsText(rows: readonly number[]): string {
  const [first, ...rest] = rows;
  if (rest.length === 0) return `row ${first}`;
  if (rest.length === 1) return `rows ${first} and ${rest[0]}`;
  return `rows ${first} to ${rest.at(-1)}`;
}
