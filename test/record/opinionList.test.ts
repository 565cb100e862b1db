import { describe, expect, test } from 'vitest';
import { codesOf, errorOf, PLAIN, studyOf, TIDY } from './support.js';

const OPINION = { source: 'green', kind: 'certificate', value_mW: 48 };
const withOpinions = (opinions: unknown) => studyOf(TIDY, PLAIN, { opinions });

describe('opinions.json', () => {
  test('what is not stated is null', () => {
    expect(withOpinions([OPINION]).opinions).toEqual([
      {
        ...OPINION,
        expanded_uncertainty_mW: null,
        coverage_factor: null,
        date: null,
        note: null,
      },
    ]);
  });

  test('all fields arrive, from the value as from its text', () => {
    const full = {
      ...OPINION,
      expanded_uncertainty_mW: 1.5,
      coverage_factor: 2,
      date: '2024-05-01',
      note: 'as new',
    };
    const parsed = withOpinions([full]);
    expect(parsed.opinions).toEqual([full]);
    expect(withOpinions(`\uFEFF${JSON.stringify([full], null, 2)}`)).toEqual(parsed);
  });

  test.each([undefined, null, '', ' \n', [], '[]'])('%j is no opinions at all', (opinions) => {
    expect(withOpinions(opinions).opinions).toEqual([]);
  });

  test('text that is not JSON is refused with line and column', () => {
    const error = errorOf(() => withOpinions('[\n  { "source": "green", }\n]'));
    expect(error).toMatchObject({ code: 'opinions-invalid', file: 'opinions.json' });
    expect(error.message).toContain('line 2, column 24');
  });

  test.each([
    ['an object', {}, 'The content'],
    ['a list of numbers', [48], '"entry 1"'],
    ['an unknown kind', [{ ...OPINION, kind: 'guess' }], '"entry 1, kind"'],
    ['no value', [{ ...OPINION, value_mW: undefined }], '"entry 1, value_mW" is missing'],
    ['a value of zero', [{ ...OPINION, value_mW: 0 }], '"entry 1, value_mW"'],
    ['an uncertainty of zero', [{ ...OPINION, expanded_uncertainty_mW: 0 }], 'uncertainty_mW"'],
    ['a coverage factor of zero', [{ ...OPINION, coverage_factor: 0 }], 'coverage_factor"'],
    ['a date that is not there', [OPINION, { ...OPINION, date: '2023-02-29' }], '"entry 2, date"'],
    ['a date of another form', [{ ...OPINION, date: '01.05.2024' }], '"entry 1, date"'],
    ['an unknown source', [{ ...OPINION, source: 'gren' }], 'Did you mean "green"?'],
  ])('%s is refused', (_, opinions, words) => {
    const error = errorOf(() => withOpinions(opinions));
    expect(error).toMatchObject({ code: 'opinions-invalid', file: 'opinions.json' });
    expect(error.message).toContain(words);
    expect(error.expected).toBeDefined();
  });

  test.each(['2024', '2024-05', '2024-02-29'])('%s is a date', (date) => {
    expect(withOpinions([{ ...OPINION, date }]).opinions[0]?.date).toBe(date);
  });

  test('an unknown field is warned of', () => {
    expect(codesOf(withOpinions([{ ...OPINION, laboratory: 'x' }]))).toContain('unknown-field');
  });
});
