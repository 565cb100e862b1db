import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { chartFactors } from '../../src/factors/analyseReChecks.js';
import { compareFactors } from '../../src/factors/analyseThenAndNow.js';
import { correct } from '../../src/factors/correct.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { parseFactors } from '../../src/factors/parseFactors.js';
import { entry, madeFactors } from '../madeFactors.js';
import { steady, studyOf } from '../seriesStudy.js';

const candidate = { name: 'Meter C', resolution_mW: 1, rated_max_mW: null };
const at = (number: number, date: string | null, factor = 1.1) =>
  madeFactors(number, { candidate, date, factors: [entry(520, factor, 0.025)] });
const codesOf = (date: string | null, day: string, months?: number) =>
  correct(
    { ...at(1, date), ...(months === undefined ? {} : { recheck_after_months: months }) },
    { reading_mW: 50, wavelength_nm: 520, date: day },
  ).cautions.map(({ code }) => code);

describe('a correction with old factors', () => {
  test('says so from the day on that the study sets', () => {
    expect(codesOf('2025-03-14', '2025-09-13', 6)).not.toContain('recheck-due');
    expect(codesOf('2025-03-14', '2025-09-15', 6)).toContain('recheck-due');
  });

  test('takes a year where the file does not say, and names both days', () => {
    expect(codesOf('2025-03-14', '2026-03-01')).not.toContain('recheck-due');
    const found = correct(at(1, '2025-03-14'), {
      reading_mW: 50,
      wavelength_nm: 520,
      date: '2026-09-14',
    }).cautions.find(({ code }) => code === 'recheck-due');
    expect(found?.message).toMatch(/of 2025-03-14, 18 months before .* after 12/);
  });

  test('takes today where no day is given', () => {
    const today = correct(at(1, '2001-01-01'), { reading_mW: 50, wavelength_nm: 520 });
    expect(today.cautions.map(({ code }) => code)).toContain('recheck-due');
  });

  test('changes nothing but the caution', () => {
    const reading = { reading_mW: 50, wavelength_nm: 520 };
    const { cautions: _, ...young } = correct(at(1, '2025-03-14'), {
      ...reading,
      date: '2025-03-15',
    });
    const { cautions: __, ...old } = correct(at(1, '2025-03-14'), {
      ...reading,
      date: '2035-03-15',
    });
    expect(old).toEqual(young);
  });

  test.each(['next week', '5', '1.2.2027', '2027-02-30'])('a day %s is refused', (date) => {
    expect(() =>
      correct(at(1, '2025-03-14'), { reading_mW: 50, wavelength_nm: 520, date }),
    ).toThrow(/day of a reading/);
  });

  test('says so before the comparison, as far as both days are stated', () => {
    expect(codesOf('2025-03-14', '2025-03-13')).toContain('reading-before-comparison');
    expect(codesOf('2025-03-14', '2024')).toContain('reading-before-comparison');
    expect(codesOf('2025-03-14', '2025-03')).not.toContain('reading-before-comparison');
    expect(codesOf('2025', '2025-03-01')).not.toContain('reading-before-comparison');
    expect(codesOf('2025-03-14', '2025-03-14')).not.toContain('reading-before-comparison');
  });

  test('says so where the factors have no day', () => {
    expect(codesOf(null, '2025-03-13')).toContain('factors-undated');
    expect(codesOf('2025-03-14', '2025-03-14')).not.toContain('factors-undated');
  });
});

describe('the day of a study', () => {
  const study = (record: object | undefined) =>
    studyOf([{ id: 'a', nm: 520, laps: steady(50, 45) }], {
      study: record === undefined ? {} : { record },
      candidate: { recheck_after_months: 6 },
    });

  test('goes into the factors with the months, and comes back from the file', () => {
    const one = study({ date: '2026-03-14' });
    const factors = factorsOf(one, analyse(one));
    expect(factors).toMatchObject({ date: '2026-03-14', recheck_after_months: 6 });
    expect(parseFactors(JSON.stringify(factors))).toEqual(factors);
    expect(factors.cautions.join(' ')).not.toContain('states no date');
  });

  test('is missed aloud', () => {
    const one = study(undefined);
    const factors = factorsOf(one, analyse(one));
    expect(factors.date).toBeNull();
    expect(factors.cautions.join(' ')).toContain('states no date');
  });

  test('that is no day is refused in a file', () => {
    expect(() => parseFactors(JSON.stringify({ ...at(1, null), date: 'spring' }))).toThrow(/date/);
    expect(() => parseFactors(JSON.stringify({ ...at(1, null), date: '5' }))).toThrow(/date/);
  });
});

describe('studies of several days', () => {
  const three = [at(1, '2024-05-01', 1.1), at(2, '2025-05-01', 1.12), at(3, '2026-05-01', 1.14)];
  const days = (order: readonly number[]) =>
    chartFactors(
      order.slice(0, -1).map((i) => three[i]),
      three[order.at(-1) ?? 0],
    )[0].values.map(({ date }) => date);

  test('stand on the chart in the order of time, however they are given', () => {
    const sorted = ['2024-05-01', '2025-05-01', '2026-05-01'];
    expect(days([0, 1, 2])).toEqual(sorted);
    expect(days([1, 0, 2])).toEqual(sorted);
    // The latest may have been measured before the others.
    expect(days([2, 1, 0])).toEqual(sorted);
  });

  test('stand as given where one has no date, and the chart says so', () => {
    const [first, second, third] = three;
    const [chart] = chartFactors([second, { ...first, date: null }], third);
    expect(chart.values.map(({ title }) => title)).toEqual([
      second.title,
      first.title,
      third.title,
    ]);
    expect(chart.why).toContain('Not every study has a date');
  });

  test('say how much time lies between', () => {
    const found = compareFactors(three[0], three[2]);
    expect(found).toMatchObject({ earlier_date: '2024-05-01', months_between: 24 });
    expect(found.why).toContain('24 months lie between');
    expect(compareFactors(three[2], three[0]).why).toContain('exchanged');
    expect(compareFactors({ ...three[0], date: null }, three[2])).toMatchObject({
      months_between: null,
    });
  });

  test('are compared with the last of them, not the last given', () => {
    const later = studyOf([{ id: 'a', nm: 520, laps: steady(50, 45) }], {
      study: { record: { date: '2026-06-01' } },
    });
    const [a, b] = [three[0], three[1]];
    expect(analyse(later, { earlier: [b, a] }).then_and_now?.earlier_date).toBe('2025-05-01');
  });
});
