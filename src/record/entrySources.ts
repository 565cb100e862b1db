/** Which source every row belongs to, and at which wavelength. */
import type { ErrorParts } from '../error.js';
import { suggestion } from '../statistics/didYouMean.js';
import type { Source } from '../vocabulary.js';
import { refuse, wordFault } from './cells.js';
import { missingColumn } from './columns.js';
import { either, whileShown } from './faults.js';
import type { RunEntry, RunTable } from './runTable.js';

/** The name of the source when neither study.json nor runs.csv gives one. */
const UNNAMED = 'source';

/**
 * The sources of the study. Where study.json lists none, the one source that the rows describe;
 * every row has then to carry its wavelength. Faults go to the given list.
 */
export function entrySources(
  table: RunTable,
  listed: readonly Source[] | null,
  faults: ErrorParts[],
): readonly Source[] {
  if (listed === null) return [impliedSource(table, faults)];
  const names = listed.map((source) => source.name);
  const known = new Set(names);
  const { columns } = table;
  const expected = either(names);
  if (names.length > 1 && !columns.found.has('source')) {
    const why = `study.json lists ${names.length} sources, so every row has to name its own.`;
    faults.push(missingColumn(columns, ['source'], why));
    return listed;
  }
  for (const row of table.entries) {
    const { source } = row;
    if (known.has(source) || (source === '' && names.length === 1)) continue;
    const said = wordFault(source, {
      empty: 'The cell is empty, and study.json lists more than one source.',
      unknown: () =>
        `study.json lists no source of this name.${whileShown(faults, () => suggestion(source, names))}`,
    });
    refuse({ columns, row, faults }, 'source', { ...said, expected });
  }
  return listed;
}

function impliedSource(table: RunTable, faults: ErrorParts[]): Source {
  const [first] = table.entries;
  const named = table.entries.find((entry) => entry.source !== '');
  const measured = table.entries.find((entry) => entry.wavelength_nm !== null);
  const source: Source = {
    name: named?.source ?? UNNAMED,
    wavelength_nm: measured?.wavelength_nm ?? 0,
    label_class: null,
    label_max_mW: null,
    emission: null,
    beam_diameter_mm: null,
  };
  if (first !== undefined && !table.columns.found.has('wavelength_nm')) {
    const why = 'study.json lists no sources, so the wavelength has to stand here.';
    faults.push(missingColumn(table.columns, ['wavelength_nm'], why));
    return source;
  }
  for (const entry of table.entries) {
    const fault = oneSourceFault(entry, source, named !== undefined);
    if (fault === null) continue;
    const { column, ...parts } = fault;
    refuse({ columns: table.columns, row: entry, faults }, column, parts);
    break;
  }
  return source;
}

function oneSourceFault(
  entry: RunEntry,
  source: Source,
  named: boolean,
): (ErrorParts & { readonly column: string }) | null {
  const expected =
    'one source in the whole file, or every source with its wavelength in study.json';
  if (named && entry.source !== source.name && entry.source !== '') {
    return {
      code: 'row-inconsistent',
      column: 'source',
      message: 'study.json lists no sources, and the rows name more than one.',
      found: `"${source.name}" and "${entry.source}"`,
      expected,
    };
  }
  if (entry.wavelength_nm === null) {
    return {
      code: 'cell-missing',
      column: 'wavelength_nm',
      message: 'The cell is empty, and study.json lists no sources that could tell the wavelength.',
      expected: 'the wavelength in nm in every row, or the source in study.json',
    };
  }
  if (entry.wavelength_nm !== source.wavelength_nm) {
    return {
      code: 'row-inconsistent',
      column: 'wavelength_nm',
      message: 'study.json lists no sources, and the rows have more than one wavelength.',
      found: `${source.wavelength_nm} and ${entry.wavelength_nm}`,
      expected,
    };
  }
  return null;
}
