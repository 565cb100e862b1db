import fc from 'fast-check';
import { expect, test } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import type { Study } from '../../src/vocabulary.js';
import { PLAIN, studyOf } from './support.js';

const OPTIONS = { seed: 20_240_501, numRuns: 100 };

/** What was recorded, without the fingerprint and the warnings, which tell how it was written. */
const recorded = ({ data_sha256: _, warnings: __, ...rest }: Study) => rest;

interface Row {
  readonly meter: 'reference' | 'candidate';
  /** The reading in units of 0.0001 mW. */
  readonly units: number;
  readonly note: string;
}

/** At least one run of each meter, so that the series is a comparison. */
const rows = fc
  .array(
    fc.record<Row>({
      meter: fc.constantFrom('reference', 'candidate'),
      units: fc.integer({ min: 1, max: 50_000_000 }),
      note: fc.constantFrom('', 'hot', 'said "now"', 'line 1\nline 2', 'Größe µ'),
    }),
    { maxLength: 12 },
  )
  .map((some): Row[] => [
    { meter: 'reference', units: 462_000, note: '' },
    { meter: 'candidate', units: 418_000, note: '' },
    ...some,
  ]);

/** `units` of 10^-places written out as a decimal number. */
function decimal(units: number, places: number, mark = '.'): string {
  const digits = String(units).padStart(places + 1, '0');
  const whole = digits.slice(0, digits.length - places);
  const rest = digits.slice(digits.length - places).replace(/0+$/, '');
  return rest === '' ? whole : `${whole}${mark}${rest}`;
}

function csv(
  table: readonly Row[],
  form: { heading?: string; places?: number; separator?: string; mark?: string; ending?: string },
): string {
  const { heading = 'reading_mW', places = 4, separator = ',', mark, ending = '\n' } = form;
  const quoted = (cell: string) =>
    /[",;\t\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
  return [
    ['meter', heading, 'note'],
    ...table.map((row) => [row.meter, decimal(row.units, places, mark), row.note]),
  ]
    .map((cells) => cells.map(quoted).join(separator) + ending)
    .join('');
}

test('readings are exactly the decimals that were typed', () => {
  fc.assert(
    fc.property(rows, (table) => {
      const runs = studyOf(csv(table, {})).series[0]?.runs ?? [];
      expect(runs.map((run) => run.reading_mW)).toEqual(
        table.map((row) => Number(decimal(row.units, 4))),
      );
    }),
    OPTIONS,
  );
});

test('mW, W and uW give the same study to the last bit', () => {
  fc.assert(
    fc.property(rows, (table) => {
      const plain = recorded(studyOf(csv(table, {})));
      expect(recorded(studyOf(csv(table, { heading: 'reading_W', places: 7 })))).toEqual(plain);
      expect(recorded(studyOf(csv(table, { heading: 'reading_uW', places: 1 })))).toEqual(plain);
      expect(recorded(studyOf(csv(table, { heading: 'READING_µW', places: 1 })))).toEqual(plain);
    }),
    OPTIONS,
  );
});

test('line endings and a byte-order mark give the same study and the same fingerprint', () => {
  fc.assert(
    fc.property(rows, fc.constantFrom('\r\n', '\r'), (table, ending) => {
      const plain = studyOf(csv(table, {}));
      const text = csv(table, {}).replaceAll('\n', ending);
      expect(studyOf(text)).toEqual(plain);
      expect(studyOf(`\uFEFF${text}${ending}${ending}`)).toEqual(plain);
    }),
    OPTIONS,
  );
});

test('separators give the same study, with a decimal comma where semicolons separate', () => {
  fc.assert(
    fc.property(rows, (table) => {
      const plain = recorded(studyOf(csv(table, {})));
      expect(recorded(studyOf(csv(table, { separator: ';' })))).toEqual(plain);
      expect(recorded(studyOf(csv(table, { separator: '\t' })))).toEqual(plain);
      expect(recorded(studyOf(csv(table, { separator: ';', mark: ',' })))).toEqual(plain);
    }),
    OPTIONS,
  );
});

test('a decimal comma between tabs is read rightly or refused, never read as thousands', () => {
  fc.assert(
    fc.property(rows, (table) => {
      const plain = recorded(studyOf(csv(table, {})));
      let tabbed: Study | MeterpairError;
      try {
        tabbed = studyOf(csv(table, { separator: '\t', mark: ',' }));
      } catch (error) {
        if (!(error instanceof MeterpairError)) throw error;
        tabbed = error;
      }
      if (tabbed instanceof MeterpairError) expect(tabbed.code).toBe('cell-not-a-number');
      else expect(recorded(tabbed)).toEqual(plain);
    }),
    OPTIONS,
  );
});

test('the place of a series among the others changes nothing in it but its rows', () => {
  const block = (name: string, values: readonly number[]) =>
    values.map((value, index) => `${name},${index % 2 === 0 ? 'reference' : 'candidate'},${value}`);
  const values = fc.array(fc.integer({ min: 1, max: 999 }), { minLength: 2, maxLength: 6 });
  const withoutRows = (study: Study) =>
    study.series
      .map((series) => ({ ...series, runs: series.runs.map(({ row: _, ...run }) => run) }))
      .sort((a, b) => (a.id < b.id ? -1 : 1));
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.tuple(fc.constantFrom('a', 'b', '__proto__', 'constructor', 'ü'), values), {
        selector: ([name]) => name,
        minLength: 1,
      }),
      fc.nat(),
      (series, turn) => {
        const blocks = series.map(([name, some]) => block(name, some));
        const cut = turn % blocks.length;
        const turned = [...blocks.slice(cut), ...blocks.slice(0, cut)].reverse();
        const read = (some: readonly string[][]) =>
          studyOf(`series,meter,reading_mW\n${some.flat().join('\n')}`);
        expect(withoutRows(read(turned))).toEqual(withoutRows(read(blocks)));
        expect(read(turned).series.map(({ id }) => id)).toEqual(
          turned.map(([first = '']) => first.split(',')[0]),
        );
      },
    ),
    OPTIONS,
  );
});

test('whatever the text, there is a study of finite numbers or a readable error, nothing else', () => {
  const pieces = fc.constantFrom(
    ...['meter', 'reading_mW', 'reference', 'candidate', 'reference_mW', 'candidate_W', 'series'],
    ...['46.2', '41,8', '-1', '0', '1e9', '1.234,5', 'NaN', '', ' ', 'x', '__proto__'],
    ...[',', ',', ',', ';', '\t', '\n', '\n', '\r\n', '"', '\uFEFF', 'exclude', 'started_at'],
  );
  const headed = fc.constantFrom('', 'meter,reading_mW\n', 'series,reference_mW,candidate_mW\n');
  const outcomes = { study: 0, error: 0 };
  fc.assert(
    fc.property(headed, fc.array(pieces, { maxLength: 30 }), (head, some) => {
      try {
        const study = parseStudy(PLAIN, { runs: head + some.join('') });
        outcomes.study += 1;
        const numbers = study.series.flatMap(({ runs }) =>
          runs.flatMap((run) => [run.reading_mW, run.time_s]),
        );
        expect(numbers.every((number) => Number.isFinite(number))).toBe(true);
      } catch (error) {
        if (!(error instanceof MeterpairError)) throw error;
        outcomes.error += 1;
        expect(error.file).toBe('runs.csv');
        expect(error.message.length).toBeGreaterThan(20);
      }
    }),
    { ...OPTIONS, numRuns: 2000 },
  );
  expect(outcomes.error).toBeGreaterThan(100);
});
