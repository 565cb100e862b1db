import { expect, test } from 'vitest';
import { parseStudy } from '../../src/record/parseStudy.js';

const study = (times: readonly string[], date?: string) =>
  parseStudy(
    {
      reference: { name: 'Meter R' },
      candidate: { name: 'Meter C' },
      ...(date === undefined ? {} : { record: { date } }),
    },
    {
      runs: `meter,reading_mW,wavelength_nm,started_at\n${times
        .map((time, i) => `${i % 2 === 0 ? 'reference' : 'candidate'},${50 + i},520,${time}`)
        .join('\n')}\n`,
    },
  );
const evening = [
  '2026-03-14T23:50:00',
  '2026-03-14T23:55:00',
  '2026-03-15T00:05:00',
  '2026-03-15T00:10:00',
];
const differs = (found: ReturnType<typeof study>) =>
  found.warnings.filter(({ code }) => code === 'dates-differ').map(({ message }) => message);

test('the day of a study is that of its first row, where study.json states none', () => {
  expect(study(evening).record.date).toBe('2026-03-14');
  expect(study(['0', '60']).record.date).toBeNull();
  expect(study(['23:50:00', '23:55:00']).record.date).toBeNull();
});

test('the day as written counts, whatever its zone', () => {
  expect(study(['2026-03-14T00:30:00+02:00', '2026-03-14T00:35:00+02:00']).record.date).toBe(
    '2026-03-14',
  );
});

test('a stated day of one of the rows is taken without a word', () => {
  for (const date of ['2026-03-14', '2026-03-15', '2026-03', '2026']) {
    const found = study(evening, date);
    expect(found.record.date).toBe(date);
    expect(differs(found)).toEqual([]);
  }
});

test('another day is taken, and warned of', () => {
  const found = study(evening, '2026-04-14');
  expect(found.record.date).toBe('2026-04-14');
  expect(differs(found)[0]).toMatch(/2026-04-14.*2026-03-14 to 2026-03-15/);
});
