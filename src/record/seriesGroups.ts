/** Which rows of runs.csv make one series. */
import type { ErrorParts } from '../error.js';
import type { Warning } from '../vocabulary.js';
import { refuse } from './cells.js';
import type { RunEntry, RunTable } from './runTable.js';

const FILE = 'runs.csv';

/** The name of the only series when runs.csv gives none. */
const UNNAMED = 'series 1';

/** Longer than a session at the bench lasts: what comes later under the same name is a new series. */
const RESUMED_AFTER_S = 6 * 3600;

/** The rows of one series. */
export interface SeriesGroup {
  /** The name as typed, and behind it a number in brackets where the name was taken up again. */
  readonly id: string;
  /** The name as typed. */
  readonly name: string;
  readonly entries: readonly RunEntry[];
}

/**
 * The rows of each series, in the order of the file. A name that comes back more than six hours
 * after its last run is a new series; one that comes back sooner, or without a time, after rows of
 * another series is a fault. Without any names all rows are one series. Faults and warnings go to the given lists.
 */
export function seriesGroups(
  table: RunTable,
  faults: ErrorParts[],
  warnings: Warning[],
): SeriesGroup[] {
  const { columns, entries } = table;
  if (entries.every((entry) => entry.series === '')) {
    return entries.length === 0 ? [] : [{ id: UNNAMED, name: UNNAMED, entries }];
  }
  const typed = new Set(entries.map((entry) => entry.series));
  const groups: (SeriesGroup & { readonly entries: RunEntry[] })[] = [];
  const latest = new Map<string, (typeof groups)[number]>();
  let current: string | null = null;
  for (const entry of entries) {
    if (entry.series === '') {
      refuse({ columns, row: entry, faults }, 'series', NO_NAME);
      continue;
    }
    const name = entry.series;
    const open = latest.get(name);
    const before = open?.entries.at(-1);
    const gap_s = before === undefined ? null : secondsBetween(before, entry);
    if (open !== undefined && (gap_s === null || gap_s <= RESUMED_AFTER_S)) {
      if (current !== name)
        refuse({ columns, row: entry, faults }, 'series', comesBack(name, before));
      open.entries.push(entry);
    } else {
      const taken = (id: string) => typed.has(id) || groups.some((group) => group.id === id);
      const group = { id: open === undefined ? name : nextId(name, taken), name, entries: [entry] };
      groups.push(group);
      latest.set(name, group);
      if (open !== undefined && before !== undefined && gap_s !== null) {
        warnings.push(resumed(open.id, group.id, { before, entry, gap_s }));
      }
    }
    current = name;
  }
  return groups;
}

/** `name (2)`, `name (3)` …: the first that nobody typed and no part has. */
function nextId(name: string, taken: (id: string) => boolean): string {
  for (let part = 2; ; part += 1) {
    const id = `${name} (${part})`;
    if (!taken(id)) return id;
  }
}

/** `null` when the two moments cannot be compared. */
function secondsBetween(before: RunEntry, entry: RunEntry): number | null {
  if (before.started === null || entry.started === null) return null;
  if (before.started.kind !== entry.started.kind) return null;
  return entry.started.seconds - before.started.seconds;
}

function resumed(
  first: string,
  second: string,
  { before, entry, gap_s }: { before: RunEntry; entry: RunEntry; gap_s: number },
): Warning {
  const hours = Math.round(gap_s / 360) / 10;
  return {
    code: 'series-resumed',
    series: second,
    message: `${FILE}: row ${entry.row} comes ${hours} h after row ${before.row} of the same series, so it starts a new one: "${first}" and "${second}" count as two series. Give the later rows a name of their own to choose it yourself.`,
  };
}

const NO_NAME = {
  code: 'cell-missing',
  message: 'The cell is empty, while other rows name their series.',
  expected: 'the name of the series in every row',
} as const;

function comesBack(series: string, before: RunEntry | undefined): ErrorParts {
  return {
    code: 'row-inconsistent',
    message: `The series "${series}" comes back after rows of another series; it ended in row ${before?.row}.`,
    found: `"${series}"`,
    expected:
      'the rows of one series one below the other, or a new name for the later part; a part that starts more than six hours later (column started_at) is taken as a new series',
  };
}
