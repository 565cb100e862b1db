import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { PLAIN, studyOf, TIDY } from './support.js';

const sha256 = (text: string) => createHash('sha256').update(text, 'utf8').digest('hex');
const OPINIONS = [{ value_mW: 48.5, source: 'green', kind: 'maker' }];
const TRACES = 'run,meter,elapsed_s,reading_mW\n1,reference,0,5\n';

test('the fingerprint is that of the documented text, written out here by hand', () => {
  const study = {
    title: 'µ "test"',
    reference: { name: 'b', resolution_mW: 0.1 },
    candidate: { name: 'c' },
    sources: [{ wavelength_nm: 520, name: 'green' }],
    $schema: 'anything',
  };
  const text = [
    'study.json',
    '{"candidate":{"name":"c"},"reference":{"name":"b","resolution_mW":0.1},"sources":[{"name":"green","wavelength_nm":520}],"title":"µ \\"test\\""}',
    'runs.csv',
    'meter,reading_mW\nreference,46.2\ncandidate,41.8',
    'traces.csv',
    'run,meter,elapsed_s,reading_mW\n1,reference,0,5',
    'opinions.json',
    '[{"kind":"maker","source":"green","value_mW":48.5}]',
    '',
  ].join('\n');
  expect(studyOf(TIDY, study, { traces: TRACES, opinions: OPINIONS }).data_sha256).toBe(
    sha256(text),
  );
  const withoutMore = text.slice(0, text.indexOf('traces.csv'));
  expect(studyOf(TIDY, study).data_sha256).toBe(sha256(withoutMore));
});

describe('what carries no data does not change it', () => {
  const plain = studyOf(TIDY, PLAIN, { traces: TRACES, opinions: OPINIONS }).data_sha256;
  test.each([
    ['a byte-order mark', `\uFEFF${TIDY}`, PLAIN],
    ['CRLF', TIDY.replaceAll('\n', '\r\n'), PLAIN],
    ['CR', TIDY.replaceAll('\n', '\r'), PLAIN],
    ['blank lines at the end', `${TIDY}\n\n`, PLAIN],
    ['no line ending at the end', TIDY.trimEnd(), PLAIN],
    ['the order of names', TIDY, Object.fromEntries(Object.entries(PLAIN).reverse())],
    ['$schema', TIDY, { $schema: 'x', ...PLAIN }],
  ])('%s', (_, runs, study) => {
    const other = studyOf(runs, study, {
      traces: TRACES.replaceAll('\n', '\r\n'),
      opinions: JSON.stringify(OPINIONS, null, 4),
    });
    expect(other.data_sha256).toBe(plain);
  });
});

test('every change of the data changes it', () => {
  const prints = [
    studyOf(TIDY),
    studyOf(TIDY.replace('46.2', '46.3')),
    studyOf(TIDY.replace('46.2', '46.20')),
    studyOf(TIDY, { ...PLAIN, tolerance_percent: 6 }),
    studyOf(TIDY, PLAIN, { traces: TRACES }),
    studyOf(TIDY, PLAIN, { opinions: OPINIONS }),
    studyOf(TIDY, PLAIN, { traces: TRACES, opinions: OPINIONS }),
  ].map((study) => study.data_sha256);
  expect(new Set(prints).size).toBe(prints.length);
  expect(prints.every((print) => /^[0-9a-f]{64}$/.test(print))).toBe(true);
});
