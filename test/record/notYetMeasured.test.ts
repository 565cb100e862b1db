/** A half-filled runs.csv, as a plan writes it and an evening at the bench fills it. */
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { runSheet } from '../../src/plan/runSheet.js';
import { codesOf, errorOf, faultsOf, PLAIN, studyOf, warningOf } from './support.js';

const TWO = {
  ...PLAIN,
  sources: [
    { name: 'green', wavelength_nm: 520 },
    { name: 'red, the old one', wavelength_nm: 650 },
  ],
};
const SHEET = runSheet({ sources: TWO.sources, laps: 4, order: 'ABBA-BAAB' });
const LEVEL = { reference: '46.2', candidate: '41.8' } as const;

/** The sheet with its first rows filled in. */
function filled(rows: number, sheet = SHEET): string {
  return sheet
    .split('\n')
    .map((line, index) => {
      if (index === 0 || index > rows) return line;
      const meter = line.includes(',reference,') ? 'reference' : 'candidate';
      return line.replace(`,${meter},`, `,${meter},${LEVEL[meter]}`);
    })
    .join('\n');
}

describe('rows without a reading after the last one measured', () => {
  test('are not yet measured, and the study says which and how many', () => {
    const study = studyOf(filled(5), TWO);
    expect(study.series.map(({ id, runs }) => [id, runs.length])).toEqual([['green', 5]]);
    const message = warningOf(study, 'not-yet-measured');
    expect(message).toContain('rows 7 to 17');
    expect(message).toContain('11 of 16');
    expect(message).toContain('"green" (3)');
    expect(message).toContain('"red, the old one" (8)');
  });

  test('say nothing once every row is filled', () => {
    expect(codesOf(studyOf(filled(16), TWO))).not.toContain('not-yet-measured');
  });

  test('the warning reaches the result', () => {
    const { warnings } = analyse(studyOf(filled(8), TWO));
    expect(warnings.map(({ code }) => code)).toContain('not-yet-measured');
  });

  test.each([2, 3, 4, 5, 6, 7, 9, 10, 15])('%i filled rows can be analysed', (rows) => {
    const result = analyse(studyOf(filled(rows), TWO));
    expect(result.series.length).toBe(rows > 8 ? 2 : 1);
  });

  test('a zero or a time noted before the switch-on does not make a run of it', () => {
    const lines = filled(5).split('\n');
    lines[6] = lines[6]!.replace(/^((?:[^,]*,){5})(,)/, '$10.1,');
    const study = studyOf(lines.join('\n'), TWO);
    expect(study.series[0]?.runs.length).toBe(5);
  });

  test('one row a lap: laps without either reading', () => {
    const study = studyOf('reference_mW,candidate_mW\n46.2,41.8\n46.1,41.7\n,\n,\n', PLAIN);
    // A row of commas alone is blank, as ever.
    expect(study.series[0]?.runs.length).toBe(4);
    const named = studyOf(
      'series,reference_mW,candidate_mW\na,46.2,41.8\na,46.1,41.7\na,,\nb,,\n',
      PLAIN,
    );
    expect(warningOf(named, 'not-yet-measured')).toContain('rows 4 to 5');
  });
});

describe('a series that has only begun', () => {
  test('with runs of one meter is kept, counts for the hazard and gives no factor', () => {
    const study = studyOf(filled(9), TWO);
    expect(study.series.map(({ kind, runs }) => [kind, runs.length])).toEqual([
      ['comparison', 8],
      ['comparison', 1],
    ]);
    expect(warningOf(study, 'series-begun')).toContain('"red, the old one"');
    const result = analyse(study);
    expect(result.series[1]?.factor.value).toBeNull();
    expect(result.hazard.find(({ source }) => source === 'red, the old one')?.highest_mW).toBe(
      46.2,
    );
  });

  test.each([
    'meter,reading_mW\nreference,46.2\nreference,\n',
    // As typed: another spelling is no other meter.
    'meter,reading_mW\nreference,46.2\nReference,\n',
  ])('without planned runs of the other meter is refused as before: %j', (runs) => {
    const error = errorOf(() => studyOf(runs));
    expect(
      faultsOf(error)
        .map(({ message }) => message)
        .join(),
    ).toContain('nothing to compare');
  });
});

describe('what stays a fault', () => {
  test('a row without a reading before one that has it', () => {
    const lines = filled(5).split('\n');
    lines[3] = lines[3]!.replace(/,(46.2|41.8)/, ',');
    const error = errorOf(() => studyOf(lines.join('\n'), TWO));
    expect(error).toMatchObject({ code: 'cell-missing', row: 4, column: 'reading_mW' });
  });

  test('a peak without its reading: passing over it would hide a hazard', () => {
    const error = errorOf(() =>
      studyOf('meter,reading_mW,peak_mW\nreference,46.2,\ncandidate,41.8,\nreference,,90\n'),
    );
    expect(error).toMatchObject({ code: 'cell-missing', row: 4 });
  });

  test.each([
    ['exclude', 'knocked head'],
    ['checked', 'yes'],
  ])('a row with %s and no reading', (column, text) => {
    const error = errorOf(() =>
      studyOf(`meter,reading_mW,${column}\nreference,46.2,\ncandidate,41.8,\nreference,,${text}\n`),
    );
    expect(error).toMatchObject({ code: 'cell-missing', row: 4 });
  });

  test('a lap with one of its two readings', () => {
    const error = errorOf(() =>
      studyOf('series,reference_mW,candidate_mW\na,46.2,41.8\na,46.1,\na,,\n'),
    );
    expect(error).toMatchObject({ code: 'cell-missing', row: 3, column: 'candidate_mW' });
  });

  test('nothing measured at all, said as what it is', () => {
    const error = errorOf(() => studyOf(SHEET, TWO));
    expect(error).toMatchObject({ code: 'no-rows' });
    expect(error.message).toContain('16 runs are planned and none is measured');
  });
});
