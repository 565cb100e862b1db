import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ErrorParts } from '../../src/error.js';
import { classLimitWithin } from '../../src/factors/classLimitWithin.js';
import { correct } from '../../src/factors/correct.js';
import { correctTable } from '../../src/factors/correctTable.js';
import { readingsTable } from '../../src/factors/readingsTable.js';
import { correctedTable } from '../../src/findings/correctedTable.js';
import { entry, madeFactors } from '../madeFactors.js';

const factors = madeFactors(1, { date: '2026-03-14', factors: [entry(520, 1.1, 0.025)] });
const DAY = '2026-03-20';

const read = (text: string) => {
  const faults: ErrorParts[] = [];
  return { table: readingsTable(text, 'readings.csv', faults), faults };
};
const corrected = (text: string) => {
  const { table } = read(text);
  if (table === null) throw new Error('no table');
  const done = correctTable(factors, table.rows, DAY);
  return { done, out: correctedTable(table, done).trimEnd().split('\n'), warnings: table.warnings };
};

describe('rows of a table', () => {
  test('each comes to what correct says of it', () => {
    const { done } = corrected('wavelength_nm,reading_mW\n520,50\n521,45\n');
    expect(done.map((one) => one.corrected)).toEqual(
      [
        { reading_mW: [[50]], wavelength_nm: 520 },
        { reading_mW: [[45]], wavelength_nm: 521 },
      ].map((one) => correct(factors, { ...one, date: DAY })),
    );
  });

  test('of one group are corrected as their mean, each seating counting once', () => {
    const { done } = corrected(
      'wavelength_nm,reading_mW,zero_mW,group,seating\n520,51,1,a,1\n520,53,1,a,1\n520,49,0,a,2\n520,50,,b,1\n',
    );
    // By hand: seatings 50 and 52, and 49: mean of 51 and 49 = 50.
    const mean = correct(factors, { reading_mW: [[50, 52], [49]], wavelength_nm: 520, date: DAY });
    expect(mean.value).toBeCloseTo(55, 9);
    for (const i of [0, 1, 2]) expect(done[i].corrected).toEqual(mean);
    expect(done[0].words[0]).toBe('Mean of 3 readings, the head put up 2 times.');
    expect(done[3].corrected?.value).toBeCloseTo(55, 9);
    expect(done[3].words.join(' ')).not.toContain('Mean');
  });

  test('of one group that are no readings of one power are refused, and stop no other', () => {
    const { done } = corrected(
      'wavelength_nm,reading_mW,group,read_at_s\n520,50,a,20\n520,50,a,30\n520,50,,\n',
    );
    expect(done[0].corrected).toBeNull();
    expect(done[1].words.join(' ')).toContain('differ in read_at_s');
    expect(done[2].corrected).not.toBeNull();
  });

  test('that cannot be corrected say why', () => {
    const { done } = corrected(
      'wavelength_nm,reading_mW\n520,fifty\n,50\n900,50\n520,-3\n520,50000\n520,50\n',
    );
    const said = done.map(({ words }) => words.join(' '));
    expect(said[0]).toMatch(/Not corrected\. reading_mW: .*"fifty"/);
    expect(said[1]).toMatch(/Not corrected\. wavelength_nm: The cell is empty/);
    expect(said[2]).toContain('beyond the measured wavelengths');
    expect(said[3]).toContain('zero or less');
    expect(said[4]).toContain('Not corrected.');
    expect(done.map((one) => one.corrected !== null)).toEqual([
      false,
      false,
      false,
      false,
      false,
      true,
    ]);
  });

  test('in W and µW come to the same as in mW', () => {
    const value = (text: string) => corrected(text).done[0].corrected?.value ?? Number.NaN;
    const mW = value('wavelength_nm,reading_mW\n520,50\n');
    expect(value('wavelength_nm,reading_W\n520,0.05\n')).toBeCloseTo(mW, 9);
    expect(value('wavelength_nm,reading_uW\n520,50000\n')).toBeCloseTo(mW, 9);
    expect(value('wavelength_nm,reading,unit\n520,50000,µW\n')).toBeCloseTo(mW, 9);
  });

  test('in a unit that is none say so', () => {
    const { done } = corrected('wavelength_nm,reading,unit\n520,50,dBm\n520,50,\n');
    expect(done.map(({ words }) => words.join())).toEqual([
      expect.stringContaining('"dBm"'),
      expect.stringContaining('empty'),
    ]);
  });
});

describe('what comes back', () => {
  test('has the rows as typed, and six columns more', () => {
    const { out } = corrected('wavelength_nm,reading_mW,note\n520,50,before lunch\n');
    expect(out[0]).toBe(
      'wavelength_nm,reading_mW,note,corrected_mW,U_mW,k,low_mW,high_mW,cautions',
    );
    const [nm, reading, note, value, U, k, low, high] = out[1].split(',');
    expect([nm, reading, note]).toEqual(['520', '50', 'before lunch']);
    const exact = correct(factors, { reading_mW: 50, wavelength_nm: 520, date: DAY });
    expect(Math.abs(Number(value) - exact.value)).toBeLessThan(0.06);
    expect(Math.abs(Number(U) - exact.U)).toBeLessThan(0.06);
    expect(Number(k)).toBeCloseTo(exact.k, 2);
    // Rounded outwards.
    expect(Number(low)).toBeLessThanOrEqual(exact.low);
    expect(Number(high)).toBeGreaterThanOrEqual(exact.high);
  });

  test('is written as the table is: semicolons and decimal commas', () => {
    const { out } = corrected('wavelength_nm;reading_mW\n520;50,5\n');
    expect(out[1]).toMatch(/^520;50,5;55,6;\d+,\d;\d,\d\d;\d+,\d;\d+,\d;/);
  });

  test('holds no formula, and leaves negative numbers alone', () => {
    const { out } = corrected(
      'wavelength_nm,reading_mW,zero_mW,note\n520,50,-0.2,"=HYPERLINK(""x"")"\n520,50,,@sum\n520,50,,+1 and more\n',
    );
    expect(out[1]).toContain(`,-0.2,"'=HYPERLINK(""x"")",`);
    expect(out[2]).toContain("'@sum");
    expect(out[3]).toContain("'+1 and more");
  });

  test('a column that nobody knows is kept, and named', () => {
    const { out, warnings } = corrected('wavelength_nm,reading_mW,colour\n520,50,green\n');
    expect(out[1]).toContain(',green,');
    expect(warnings.map(({ message }) => message).join()).toContain('"colour"');
  });

  test('a table without its columns names them', () => {
    const { table, faults } = read('nm,power\n520,50\n');
    expect(table).toBeNull();
    expect(faults.map(({ code }) => code)).toEqual(['column-missing', 'column-missing']);
    expect(read('').faults[0].code).toBe('no-rows');
  });

  test('is one row for each row, whatever stands in them', () => {
    const cell = fc.oneof(
      fc.string(),
      fc.constantFrom('520', '50', '-1', '1e99', 'NaN', '=1', '"'),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 8 }), (rows) => {
        const quoted = (text: string) => `"${text.replaceAll('"', '""')}x"`;
        const text = `wavelength_nm,reading_mW,note\n${rows.map((row) => row.map(quoted).join(',')).join('\n')}\n`;
        const { table } = read(text);
        if (table === null) return;
        const done = correctTable(factors, table.rows, DAY);
        expect(done).toHaveLength(table.rows.length);
        for (const one of done)
          expect(one.words.length + (one.corrected === null ? 0 : 1)).toBeGreaterThan(0);
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe('a limit of a class within the interval', () => {
  // IEC 60825-1:2014 by way of the transcription that the limits name: 5 mW ends class 3R at 520 nm.
  test('is a caution, and beside it is none', () => {
    const [found] = classLimitWithin(520, { low: 4.8, high: 5.2 });
    expect(found).toMatchObject({ code: 'class-limit-within' });
    expect(found.message).toContain('class 3R (5 mW)');
    expect(classLimitWithin(520, { low: 5.1, high: 6 })).toEqual([]);
    expect(classLimitWithin(520, { low: 0.9, high: 5.2 })[0].message).toMatch(
      /class 2 \(1 mW\) and of class 3R/,
    );
  });

  test('stands with the corrected reading', () => {
    const low = madeFactors(1, {
      factors: [{ ...entry(520, 1, 0.03), candidate_range_mW: [4, 6] }],
    });
    const at4 = {
      ...low.factors[0],
      levels: low.factors[0].levels.map((level) => ({
        ...level,
        candidate_mW: [4, 6] as const,
        centre_mW: 5,
      })),
    };
    const codes = (reading_mW: number) =>
      correct({ ...low, factors: [at4] }, { reading_mW, wavelength_nm: 520 }).cautions.map(
        ({ code }) => code,
      );
    expect(codes(5)).toContain('class-limit-within');
    expect(codes(9)).not.toContain('class-limit-within');
  });
});
