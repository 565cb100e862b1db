import { expect, test } from 'vitest';
import { certificateWarnings } from '../../src/readings/certificate.js';
import type { Study } from '../../src/vocabulary.js';
import { exampleStudy } from '../report/exampleResult.js';

const dated = (
  date: string | null,
  valid_until: string | null,
  issued: string | null = null,
): Study => {
  const study = exampleStudy();
  const certificate = {
    number: '17',
    laboratory: null,
    issued,
    valid_until,
    by_wavelength: [],
  };
  return {
    ...study,
    record: { ...study.record, date },
    reference: { ...study.reference, certificate },
  };
};
const codes = (date: string | null, until: string | null) =>
  certificateWarnings(dated(date, until)).map(({ code }) => code);

test('a certificate out of date on the day is a warning, on its last day it is none', () => {
  expect(codes('2026-03-14', '2026-03-13')).toEqual(['certificate-out-of-date']);
  expect(codes('2026-03-14', '2026-03-14')).toEqual([]);
});

test('where one of the days is not stated, it is said exactly when it matters', () => {
  expect(codes(null, '2026-03-13')).toEqual(['certificate-not-dated']);
  expect(codes('2026-03-14', null)).toEqual([]);
  expect(certificateWarnings(exampleStudy())).toEqual([]);
});

test('one that was issued after the comparison is a warning, as far as both days are stated', () => {
  const codes = (date: string | null, issued: string) =>
    certificateWarnings(dated(date, null, issued)).map(({ code }) => code);
  expect(codes('2026-03-14', '2026-03-15')).toEqual(['certificate-issued-later']);
  expect(codes('2026-03-14', '2026-03-14')).toEqual([]);
  expect(codes('2026', '2026-03-15')).toEqual([]);
  expect(codes(null, '2026-03-15')).toEqual([]);
});
