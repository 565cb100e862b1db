import { stat } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { type ErrorParts, MeterpairError } from '../error.js';
import { correct as correctReading } from '../factors/correct.js';
import { correctTable } from '../factors/correctTable.js';
import { readFactors } from '../factors/readFactors.js';
import { readingsTable } from '../factors/readingsTable.js';
import { correctedTable, outwards } from '../findings/correctedTable.js';
import { withoutControls } from '../findings/escape.js';
import { formatNumber } from '../findings/formatNumber.js';
import { formatUncertain } from '../findings/formatUncertain.js';
import { DAY_EXPECTED, isDay, today } from '../record/days.js';
import { throwFaults } from '../record/faults.js';
import { regularText } from '../record/regularFile.js';
import type { Factors } from '../vocabulary.js';
import type { Io } from './io.js';
import { badUse, typedNumber, verb } from './options.js';
import { checkOutputFolder } from './outputFolder.js';
import { isCorrectedTable } from './seal.js';
import { writeOutput } from './writeOutputs.js';

const HELP = `Corrects readings of the candidate with the factors of a comparison.

  npx meterpair correct report/factors.json --reading 42 --nm 520
  npx meterpair correct report/factors.json READINGS.csv --out corrected.csv

One reading: --reading MW and --nm NM; --reading may stand several times for repeats of one power, the
head not moved. Also --zero MW, --read-at S (after switch-on), --setting NM.

A table: columns wavelength_nm and reading_mW (or _W, _uW, or reading and unit), and where known zero_mW,
read_at_s, setting_nm, date, group (rows of one power: their mean is corrected), seating (within a group:
one name each time the head was put up), note. The same rows come back with corrected_mW, U_mW, k, low_mW,
high_mW and cautions, to standard output or to --out FILE. A row that cannot be corrected says why.

FILE ends in .csv; only a table that came of this command before is replaced, and kept beside.

--date DAY, as 2026-03-14, is the day of the readings where the table does not say; without it, today.
`;

/** Corrects one reading, or a table of them. */
export const correct = verb({
  help: HELP,
  options: {
    reading: { value: 'MW', many: true },
    nm: { value: 'NM' },
    zero: { value: 'MW' },
    'read-at': { value: 'S' },
    setting: { value: 'NM' },
    date: { value: 'DAY' },
    out: { value: 'FILE', short: 'o' },
  },
  places: ['FACTORS', 'READINGS.csv'],
  run: async ({ places: [factorsPath, tablePath], options }, io) => {
    if (factorsPath === undefined)
      throw badUse('Which factors?', 'nothing', 'the path of a factors.json');
    const date = options.date === null ? today() : dayOf(options.date);
    const single = options.reading.length > 0;
    if (single === (tablePath !== undefined)) {
      throw badUse(
        single ? 'Either a table or --reading.' : 'What is to be corrected?',
        tablePath ?? 'neither',
        'READINGS.csv, or --reading MW with --nm NM',
      );
    }
    const idle = (single ? (['out'] as const) : READING_ONLY).find(
      (name) => options[name] !== null,
    );
    if (idle !== undefined) throw withoutEffect(idle, options[idle] ?? '');
    const readAt = options['read-at'];
    if (readAt !== null && !(typedNumber('--read-at', readAt) > 0)) {
      throw badUse('--read-at needs a time after switch-on.', readAt, 's above 0');
    }
    const factors = await readFactors(resolve(io.from, factorsPath));
    if (tablePath !== undefined) {
      const out = options.out === null ? null : resolve(io.from, options.out);
      const paths = {
        factors: resolve(io.from, factorsPath),
        table: resolve(io.from, tablePath),
        out,
      };
      return correctFile(factors, paths, date, io);
    }
    if (options.nm === null) throw badUse('At which wavelength?', 'no --nm', '--nm 520');
    const optional = (name: string, option: 'zero' | 'read-at' | 'setting') => {
      const text = options[option];
      return text === null ? {} : { [name]: typedNumber(`--${option}`, text) };
    };
    const wavelength_nm = typedNumber('--nm', options.nm);
    const found = correctReading(factors, {
      reading_mW: options.reading.map((text) => typedNumber('--reading', text)),
      wavelength_nm,
      date,
      ...optional('zero_mW', 'zero'),
      ...optional('read_at_s', 'read-at'),
      ...optional('setting_nm', 'setting'),
    });
    const [first, ...cautions] = sentencesOf(found, options.reading, wavelength_nm);
    io.out(`${[first, whose(factors), ...cautions].join('\n')}\n`);
    return 0;
  },
});

function sentencesOf(
  found: ReturnType<typeof correctReading>,
  readings: readonly string[],
  nm: number,
): readonly string[] {
  const shown = readings.length === 1 ? 'A reading' : `The mean of ${readings.length} readings`;
  const { value, U, k, cautions } = found;
  return [
    `${shown} (${readings.join(', ')} mW) at ${formatNumber(nm)} nm comes to ${formatUncertain(value, U, { unit: 'mW' })}, k = ${formatNumber(k, { digits: 3 })}: from ${outwards(found).join(' to ')} mW.`,
    ...cautions.map(({ message }) => `- ${message}`),
  ];
}

/** Of which meters and which day the factors are. */
function whose({ candidate, reference, date }: Factors): string {
  const day = date === null ? 'without a date' : `of ${date}`;
  return withoutControls(
    `By the factors ${day} for "${candidate.name}" against "${reference.name}".`,
  );
}

interface Paths {
  readonly factors: string;
  readonly table: string;
  readonly out: string | null;
}

async function correctFile(
  factors: Factors,
  { out, ...inputs }: Paths,
  date: string,
  io: Io,
): Promise<number> {
  const path = inputs.table;
  const faults: ErrorParts[] = [];
  const text = await regularText(path, path, 'a table of readings, saved as CSV');
  if (out !== null) await requireReplaceable(out, Object.values(inputs));
  const read = readingsTable(text, basename(path), faults);
  throwFaults(faults);
  if (read === null || read.rows.length === 0) {
    throw new MeterpairError({
      code: 'no-rows',
      file: basename(path),
      message: 'There is a heading and no reading below it.',
      expected: 'one row a reading',
    });
  }
  const done = correctTable(factors, read.rows, date);
  const readable = read.rows.filter(({ reading }) => reading !== null).length;
  const corrected = done.filter((one) => one.corrected !== null).length;
  const table = correctedTable(read, done);
  if (out === null) io.out(table);
  else await writeOutput(out, table, io);
  for (const { message } of read.warnings) io.err(`${message}\n`);
  io.err(`${whose(factors)}\n`);
  const left = read.rows.length - corrected;
  const rows = `${corrected} of ${read.rows.length} rows corrected`;
  io.err(`${rows}${left === 0 ? '' : `; the others say why in the column cautions`}.\n`);
  if (out !== null) io.out(`Corrected readings: ${out}\n`);
  return readable === 0 ? 2 : 0;
}

function dayOf(text: string): string {
  if (isDay(text)) return text;
  throw badUse('--date needs a day.', text, DAY_EXPECTED);
}

/** Options that a table answers row by row, and its columns for them. */
const COLUMN_FOR = {
  nm: 'wavelength_nm',
  zero: 'zero_mW',
  'read-at': 'read_at_s',
  setting: 'setting_nm',
} as const;
const READING_ONLY = ['nm', 'zero', 'read-at', 'setting'] as const;

function withoutEffect(name: 'out' | keyof typeof COLUMN_FOR, found: string): MeterpairError {
  return name === 'out'
    ? badUse('--out goes with a table.', found, 'READINGS.csv in place of --reading')
    : badUse(`--${name} goes with --reading.`, found, `a column ${COLUMN_FOR[name]} in the table`);
}

/** An earlier table of corrected readings may be replaced; everything else is somebody's, inputs first of all. */
async function requireReplaceable(out: string, inputs: readonly string[]): Promise<void> {
  if (!/\.csv$/i.test(out)) {
    throw badUse('Corrected readings are a CSV table.', out, 'a name ending in .csv behind --out');
  }
  const idOf = (path: string) =>
    stat(path, { bigint: true }).then(
      ({ dev, ino }) => `${dev} ${ino}`,
      () => null,
    );
  const there = await idOf(out);
  // The same file may be reached by several paths.
  if (there !== null && (await Promise.all(inputs.map(idOf))).includes(there)) {
    throw badUse('An input would be overwritten.', out, 'another name behind --out');
  }
  if (there !== null && !isCorrectedTable(await regularText(out, out))) {
    throw badUse(
      'The file there is no table of corrected readings; it stays as it is.',
      out,
      'another name behind --out',
    );
  }
  await checkOutputFolder(dirname(out), [basename(out)]);
}
