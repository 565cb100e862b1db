import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { MeterpairError } from '../../src/error.js';
import { factorsFile } from '../../src/factors/factorsFile.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { parseFactors } from '../../src/factors/parseFactors.js';
import { readStudy } from '../../src/record/readStudy.js';
import { twelveDigits } from '../record/twelveDigits.js';
import { exampleFactors } from '../report/exampleResult.js';

function thrownBy(content: unknown): MeterpairError {
  try {
    parseFactors(content, 'factors.json');
  } catch (error) {
    if (error instanceof MeterpairError) return error;
    throw error;
  }
  throw new Error('nothing was thrown');
}

/** The example with one field of its first entry changed. */
function withEntry(change: Readonly<Record<string, unknown>>): unknown {
  const factors = exampleFactors();
  const [first, ...others] = factors.factors;
  return { ...factors, factors: [{ ...first, ...change }, ...others] };
}

describe('factors.json', () => {
  it('is read back as it was written, from text and from parsed data', async () => {
    const text = factorsFile(exampleFactors());
    expect(text.endsWith('}\n')).toBe(true);
    expect(parseFactors(text)).toEqual(twelveDigits(exampleFactors()));
    expect(parseFactors(JSON.parse(text))).toEqual(twelveDigits(exampleFactors()));
    // Byte by byte, as an analysis writes it.
    const folder = fileURLToPath(new URL('../../data-demo/1-workshop-evening', import.meta.url));
    const study = await readStudy(folder);
    const written = factorsFile(factorsOf(study, analyse(study)));
    expect(factorsFile(parseFactors(written))).toBe(written);
  });

  it('may carry fields that a later release added', () => {
    expect(parseFactors({ ...exampleFactors(), added_later: 1 })).toEqual(exampleFactors());
  });

  it('refuses another version readably', () => {
    const error = thrownBy({ ...exampleFactors(), schema: 'meterpair.factors/3' });
    expect(error.code).toBe('factors-invalid');
    expect(error.message).toBe(
      'factors.json: The factors are written in another version of the format, which this version of meterpair cannot read. Found: "meterpair.factors/3". Right would be: "meterpair.factors/2".',
    );
  });

  it.each([
    ['no JSON', 'not { json', 'cannot be read as JSON'],
    ['a result file', { schema: 'meterpair.result/2' }, 'not a file of factors'],
    ['no schema', {}, 'no schema'],
    ['null', null, 'not a file of factors'],
    ['a list', [], 'not a file of factors'],
    ['a schema that is no text', { schema: 1 }, 'not a file of factors'],
  ])('refuses %s', (_, content, part) => {
    const error = thrownBy(content);
    expect(error.code).toBe('factors-invalid');
    expect(error.message).toContain(part);
  });

  it.each([
    ['a factor below zero', { factor: -1, low: -2, high: 1 }, 'factors.factors[0].factor'],
    ['a factor outside its interval', { factor: 9 }, 'must lie between its low and its high'],
    ['a range the wrong way round', { candidate_range_mW: [5, 1] }, 'must not lie above'],
    ['an unknown verdict', { verdict: 'fine' }, 'factors.factors[0].verdict'],
    ['a text for a number', { dof: '12' }, 'Found: "12"'],
    ['a missing number', { coverage_factor: undefined }, 'Found: nothing'],
  ])('refuses %s', (_, change, part) => {
    expect(thrownBy(withEntry(change)).message).toContain(part);
  });

  it('refuses the inverse direction, a wavelength twice and a broken fingerprint', () => {
    const factors = exampleFactors();
    expect(
      thrownBy({ ...factors, direction: 'corrected = candidate reading ÷ factor' }).message,
    ).toContain('factors.direction');
    expect(
      thrownBy({ ...factors, factors: [factors.factors[0], factors.factors[0]] }).message,
    ).toContain('must not appear twice');
    expect(thrownBy({ ...factors, data_sha256: 'abc' }).message).toContain('64 hexadecimal digits');
  });

  it('refuses an entry of an earlier file that is none', () => {
    for (const one of [null, 7, 'x']) {
      const earlier = { ...exampleFactors(), schema: 'meterpair.factors/1', factors: [one] };
      expect(thrownBy(earlier).message).toContain('factors.factors[0]');
    }
  });

  it('reports all faults at once', () => {
    const error = thrownBy({ ...exampleFactors(), confidence: 2, title: 7 });
    expect([error.message, ...error.others.map((one) => one.message)].join(' ')).toMatch(
      /factors\.title.*factors\.confidence|factors\.confidence.*factors\.title/s,
    );
    expect(error.others).toHaveLength(1);
  });

  it('answers anything at all with factors or with the one error', () => {
    fc.assert(
      fc.property(fc.oneof(fc.anything(), fc.string(), fc.json()), (content) => {
        expect(thrownBy(content).code).toBe('factors-invalid');
      }),
      { seed: 6, numRuns: 500 },
    );
  });
});
