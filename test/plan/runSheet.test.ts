import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { runOrder } from '../../src/plan/runOrder.js';
import { plannedRuns, runSheet } from '../../src/plan/runSheet.js';
import { runSheetText } from '../../src/plan/runSheetText.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { LEAST_LAPS, type RunOrder } from '../../src/vocabulary.js';

const sources = [
  { name: 'green, hand-held', wavelength_nm: 520 },
  { name: 'blue "module"', wavelength_nm: 445 },
];
const studyObject = (order: RunOrder) => ({
  title: 'Invented',
  reference: { name: 'Reference (invented)' },
  candidate: { name: 'Candidate (invented)' },
  sources,
  protocol: { order },
});

function filledIn(csv: string): string {
  const { data } = Papa.parse<Record<string, string>>(csv, { header: true, skipEmptyLines: true });
  const rows = data.map((row, i) => ({
    ...row,
    reading_mW: row.meter === 'reference' ? '50.1' : '46',
    peak_mW: '51',
    zero_mW: '0',
    started_at: String(30 * i),
  }));
  return Papa.unparse(rows);
}

describe('runSheet', () => {
  it.each(['reference-first', 'candidate-first', 'ABBA', 'ABBA-BAAB'] as const)(
    'filled in, parses as a study in the order %s',
    (order) => {
      const csv = runSheet({ sources, laps: 4, order, seriesPerSource: 2 });
      const study = parseStudy(studyObject(order), { runs: filledIn(csv) });
      expect(study.layout).toBe('tidy');
      expect(study.series).toHaveLength(4);
      for (const series of study.series) {
        expect(series.runs.map((run) => run.meter)).toEqual(runOrder(order, 4));
        expect(series.runs.map((run) => run.lap)).toEqual([1, 1, 2, 2, 3, 3, 4, 4]);
      }
      expect(new Set(study.series.map((series) => series.wavelength_nm))).toEqual(
        new Set([520, 445]),
      );
      expect(study.warnings.filter((warning) => warning.code === 'unknown-column')).toEqual([]);
      // The sheet's own order must be the one the study declares.
      expect(study.warnings.map((warning) => warning.code).join(' ')).not.toMatch(/order/);
    },
  );

  it('not filled in, is refused for its empty readings', () => {
    const csv = runSheet({ sources, laps: 1, order: 'ABBA' });
    expect(() => parseStudy(studyObject('ABBA'), { runs: csv })).toThrowError(
      /none is measured yet/,
    );
  });

  it('has the columns of a tidy runs.csv and a row for every run', () => {
    const lines = runSheet({ sources: [sources[0]], laps: 3, order: 'ABBA' })
      .trimEnd()
      .split('\n');
    expect(lines[0]).toBe(
      'series,source,meter,reading_mW,peak_mW,zero_mW,started_at,setting_nm,exclude,note',
    );
    expect(lines).toHaveLength(7);
    expect(lines[1]).toBe('"green, hand-held","green, hand-held",reference,,,,,,,lap 1');
  });

  it('does every source once before any of them again', () => {
    const order = plannedRuns({ sources, laps: 1, order: 'ABBA', seriesPerSource: 2 });
    const series = [...new Set(order.map((run) => run.series))];
    expect(series).toEqual([
      'green, hand-held / 1',
      'blue "module" / 1',
      'green, hand-held / 2',
      'blue "module" / 2',
    ]);
  });

  it.each([
    ['no source', { sources: [], laps: 1 }],
    ['a name used twice', { sources: [sources[0], sources[0]], laps: 1 }],
    ['an empty name', { sources: [{ name: ' ', wavelength_nm: 520 }], laps: 1 }],
    ['no wavelength', { sources: [{ name: 'x', wavelength_nm: 0 }], laps: 1 }],
    ['half a lap', { sources, laps: 0.5 }],
    ['no series', { sources, laps: 1, seriesPerSource: 0 }],
  ])('refuses %s', (_, options) => {
    expect(() => runSheet({ order: 'ABBA', ...options })).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('runSheetText', () => {
  const text = runSheetText({ sources, laps: 2, order: 'ABBA', slowerTimeConstant_s: 2.5 });

  it('puts the cautions before the first run', () => {
    const firstRun = text.indexOf('## Series');
    for (const caution of [
      /Never look into the beam/,
      /eyewear made and rated for the wavelength/,
      /matt beam stop/,
      /IEC 60825-1, the local rules, or a laser safety officer/,
      /Labels are often wrong/,
    ]) {
      expect(text.search(caution)).toBeGreaterThan(0);
      expect(text.search(caution)).toBeLessThan(firstRun);
    }
  });

  it('asks for every planned lap, and says when a series has fewer than the analysis asks for', () => {
    const few = new RegExp(`fewer than the ${LEAST_LAPS} laps`);
    expect(text).toMatch(/Take all 2 laps of each series/);
    expect(text).toMatch(few);
    const enough = runSheetText({ sources, laps: LEAST_LAPS, order: 'reference-first' });
    expect(enough).toMatch(`Take all ${LEAST_LAPS} laps`);
    expect(enough).not.toMatch(few);
  });

  it('asks for warm-up, zero, and five time constants of the slower meter', () => {
    expect(text).toMatch(/Warm the source up for at least 10 minutes/);
    expect(text).toMatch(/write it down as the zero/);
    expect(text).toMatch(/five time constants of the slower one: 13 s/);
    expect(runSheetText({ sources, laps: 2, order: 'ABBA' })).toMatch(/time constant: ______ s/);
  });

  it('lists every run in its order', () => {
    const rows = text.match(/^\| \d+ \| \d+ \| (reference|candidate) /gm) ?? [];
    expect(rows).toHaveLength(8);
    expect(rows.slice(0, 4).map((row) => row.split('|')[3].trim())).toEqual(runOrder('ABBA', 2));
  });

  it('keeps a name with bars and line breaks inside its heading', () => {
    const odd = runSheetText({
      sources: [{ name: 'a | b\n# c', wavelength_nm: 520 }],
      laps: 1,
      order: 'ABBA',
    });
    expect(odd).toContain('## Series a \\| b \\# c');
  });

  it('refuses a time constant that is no time', () => {
    expect(() =>
      runSheetText({ sources, laps: 1, order: 'ABBA', slowerTimeConstant_s: -1 }),
    ).toThrowError(/slowerTimeConstant_s must be/);
  });
});
