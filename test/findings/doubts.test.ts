import { describe, expect, it } from 'vitest';
import { answer } from '../../src/findings/answer.js';
import { budgetMatrix } from '../../src/findings/budgetFinding.js';
import { doubts, nextStep } from '../../src/findings/doubts.js';
import { cellText } from '../../src/findings/finding.js';
import { moreHazardous, otherLabels } from '../../src/findings/hazardFinding.js';
import { comparedWhat, recheckBy, recordList } from '../../src/findings/recordList.js';
import { reportId } from '../../src/findings/reportId.js';
import { factorWarnings, otherWarnings, ranked } from '../../src/findings/warningRank.js';
import type { Result } from '../../src/vocabulary.js';
import { exampleResult, exampleStudy } from '../report/exampleResult.js';

const study = exampleStudy();
const result = exampleResult();
const withWavelength = (nm: number, change: Partial<Result['wavelengths'][number]>): Result => ({
  ...result,
  wavelengths: result.wavelengths.map((one) =>
    one.wavelength_nm === nm ? { ...one, ...change } : one,
  ),
});

describe('the answer', () => {
  it('has a row for every wavelength, and no number where the data cannot tell', () => {
    const { columns, rows } = answer(result);
    expect(rows.map(([nm]) => nm)).toEqual(result.wavelengths.map((one) => one.wavelength_nm));
    const open = rows.find(([nm]) => nm === 532) ?? [];
    expect(open.map((cell, i) => cellText(columns[i], cell))).toEqual([
      '532',
      '—',
      '—',
      '—',
      '—',
      'this data cannot tell you',
    ]);
  });
});

describe('reasons for doubt', () => {
  it('name what no budget holds once, with the wavelengths where not all lack it', () => {
    const common = doubts(result).at(-1) ?? '';
    expect(common).toContain('settling: no traces recorded');
    expect(common.match(/zero of the candidate/g)).toHaveLength(1);
    const one = doubts(withWavelength(405, { not_in_budget: ['drift: not stated'] })).at(-1);
    expect(one).toContain('drift: not stated (405 nm)');
  });

  it('say of an open wavelength how wide it is, or what has to be settled first', () => {
    expect(doubts(result).join(' ')).toMatch(/532 nm: .* known only to ± \d+ %/);
    const blocked = withWavelength(405, {
      verdict: 'inconclusive',
      improvement: null,
      next_step: 'Settle that first.',
      why: 'The setting was wrong.',
    });
    expect(doubts(blocked).join(' ')).toContain(
      '405 nm: this data cannot tell you a factor. The setting was wrong.',
    );
    expect(nextStep(blocked)).toBe('405 nm: Settle that first.');
  });

  it('name the wavelengths at which one reading is not known to the tolerance', () => {
    const wide = withWavelength(405, { corrected_reading_relative_U: 0.074 });
    expect(doubts(wide).join(' ')).toContain('405 nm (± 7.4 %): one corrected reading');
    expect(doubts(result).join(' ')).not.toContain('one corrected reading');
  });

  it('say when the reference states nothing', () => {
    const bare = {
      ...study,
      reference: { ...study.reference, expanded_uncertainty_percent: null },
    };
    expect(doubts(result, bare).join(' ')).toContain('relative to this reference only');
    expect(doubts(result, study).join(' ')).not.toContain('relative to this reference only');
  });
});

describe('the next step', () => {
  it('is that of the open wavelength nearest to an answer', () => {
    expect(nextStep(result)).toBe(
      '532 nm: Repeat with a steadier source: its scatter is most of the variance.',
    );
  });

  it('is that of the least known wavelength where all have an answer', () => {
    const wavelengths = result.wavelengths.map((one, i) => ({
      ...one,
      verdict: 'correct-it' as const,
      relative_expanded_uncertainty: [0.02, 0.03, 0.05, 0.04, 0.01][i] ?? 0,
      improvement: `Step ${i}.`,
    }));
    expect(nextStep({ ...result, wavelengths })).toBe(
      `${wavelengths[2]?.wavelength_nm} nm, the least known: Step 2.`,
    );
    expect(nextStep({ ...result, wavelengths: [] })).toBe('Take a series with both meters.');
  });

  it('is to look at the entry again where one looks like a slip', () => {
    const suspect = {
      row: 7,
      rows: [7, 8],
      series: 'violet',
      meter: 'reference',
      kind: 'exchanged',
      found: 1,
      likely: 2,
      message: 'Row 7 looks odd.',
      factor_as_typed: null,
      factor_without: null,
      factor_likely: null,
      why: 'K would change.',
    } as const;
    expect(nextStep({ ...result, suspects: [suspect] })).toContain('rows 7, 8 of runs.csv');
    expect(doubts({ ...result, suspects: [suspect] })[0]).toContain('Row 7 looks odd.');
    const open = result.wavelengths.find((one) => one.wavelength_nm === 532);
    const there = { ...suspect, series: open?.series[0] ?? '' };
    expect(doubts({ ...result, suspects: [there] }).join(' ')).toContain(
      '532 nm: this data cannot tell you a factor while such an entry is open.',
    );
  });
});

describe('warnings', () => {
  const warnings = [
    { code: 'order-bias', message: 'Bias of −0.68 %.', series: 'a' },
    { code: 'order-bias', message: 'Bias of −0.14 %.', series: 'b' },
    { code: 'reads-low-at-the-top', message: 'Low at the top.' },
    { code: 'hazard-pulsed', message: 'Pulsed.' },
  ];
  it('stand worst first, what may hurt somebody before what may make a factor wrong', () => {
    expect(
      ranked({ warnings })
        .map(({ code }) => code)
        .slice(0, 2),
    ).toEqual(['hazard-pulsed', 'reads-low-at-the-top']);
    expect(factorWarnings({ warnings })).toHaveLength(2);
  });
  it('say a thing that a table has by series once, and lose no series', () => {
    expect(otherWarnings({ warnings })).toEqual([
      'a: Bias of −0.68 %. So it is, by other amounts, in b: see the drift by series.',
    ]);
  });
  it('of one series alone say it as it is', () => {
    expect(otherWarnings({ warnings: warnings.slice(0, 1) })).toEqual(['a: Bias of −0.68 %.']);
  });
  it('all stand in one of the two lists', () => {
    const count = factorWarnings(result).length + otherWarnings(result).length;
    expect(count).toBe(result.warnings.length);
  });
});

describe('labels', () => {
  it('that understate are named one by one, the others counted or named where they are open', () => {
    const unsafe = moreHazardous(result);
    expect(unsafe).toHaveLength(2);
    expect(unsafe[0]).toContain(
      'violet marker, 405 nm: more hazardous than labelled. Up to 96.1 mW, class 3B',
    );
    expect(unsafe[1]).toContain('may be more hazardous than labelled');
    expect(unsafe[1]).toContain('class 3B not excluded');
    expect(otherLabels(result)).toBe(
      'Label neither shown right nor wrong: old doubled head. 2 labels are not contradicted.',
    );
  });
  it('that all understate leave no others', () => {
    const hazard = result.hazard.map((one) => ({ ...one, label_understates: true as const }));
    expect(otherLabels({ ...result, hazard })).toBe('');
  });
  it('round an upper bound upwards', () => {
    const hazard = result.hazard.map((one) => ({ ...one, upper_mW: 5.00001 }));
    expect(moreHazardous({ ...result, hazard })[0]).toContain('Up to 5.01 mW');
  });
});

describe('the budget', () => {
  const matrix = budgetMatrix(result);
  it('is one matrix: a row for every contribution, a column for every wavelength with a budget', () => {
    const shown = result.wavelengths.filter((one) => one.budget.length > 0);
    expect(matrix.columns).toHaveLength(2 + shown.length);
    const names = new Set(shown.flatMap((one) => one.budget.map(({ name }) => name)));
    expect(matrix.rows).toHaveLength(names.size + 4);
    for (const row of matrix.rows) expect(row).toHaveLength(matrix.columns.length);
    expect(matrix.shares.map((row) => row.length)).toEqual(matrix.rows.map(() => shown.length));
  });
  it('has shares that add up to the whole at each wavelength', () => {
    for (const [i, one] of result.wavelengths.entries()) {
      const sum = matrix.shares.reduce((total, row) => total + (row[i] ?? 0), 0);
      expect(sum).toBeCloseTo(
        one.budget.reduce((total, { share }) => total + share, 0),
        9,
      );
    }
  });
});

describe('the record', () => {
  const entries = new Map(recordList(study, result, { meterpair: '0.1.0' }));
  // ISO/IEC 17025:2017, 7.8.2.1 and 7.8.4.1, from memory: identification, items, date and place, method,
  // conditions, traceability, uncertainty, who authorises, results relate only to the items; 7.8.6: rule.
  it.each([
    'Identification',
    'Items',
    'Date, place',
    'Measured by',
    'Authorised by, customer',
    'Conditions',
    'Method',
    'Traceability',
    'Uncertainty',
    'Decision rule',
    'Validity',
  ])('says %s, or that it is not stated', (name) => {
    expect(entries.get(name)).toMatch(/\S/);
  });
  it('shows what nobody stated as not stated, and what was stated as it stands', () => {
    expect(entries.get('Date, place')).toBe('not stated, not stated');
    expect(entries.get('Validity')).toContain('relate only to the items compared');
    const record = { ...study.record, date: '2026-03-14', operator: 'A. N.' };
    expect(new Map(comparedWhat({ ...study, record })).get('By')).toBe('A. N.');
    expect(recheckBy({ ...study, record })).toBe('2027-03-14');
    expect(recheckBy(study)).toBe('12 months after the comparison');
    // Half a month is 15 days, as where a correction looks whether it is due.
    const candidate = { ...study.candidate, recheck_after_months: 0.5 };
    expect(recheckBy({ ...study, candidate, record })).toBe('2026-03-29');
  });
  it('names the certificate, or U alone where that is all there is', () => {
    const bare = { ...study.reference, certificate: null };
    const words = (reference: typeof study.reference) =>
      new Map(comparedWhat({ ...study, reference })).get('Certificate of the reference');
    const stated = { expanded_uncertainty_percent: 3, coverage_factor: 2 };
    expect(words({ ...bare, ...stated })).toBe('not stated; U = 3 % (k = 2) is stated');
    expect(words({ ...bare, expanded_uncertainty_percent: null })).toBe('not stated');
    expect(entries.get('Reading')).toBe(result.reading.why);
  });
  it('is identified by the data alone', () => {
    expect(reportId({ data_sha256: '3f2a9c0d5e7b81f6' })).toBe('3f2a-9c0d-5e7b');
  });
});
