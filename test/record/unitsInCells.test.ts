import { describe, expect, test } from 'vitest';
import { errorOf, studyOf } from './support.js';

const readings = (runs: string) => studyOf(runs).series[0]?.runs.map((run) => run.reading_mW);

describe('a unit in the cells', () => {
  test('that is the heading’s is read, in some cells or in all', () => {
    expect(readings('meter,reading_mW\nreference,46.2 mW\ncandidate,41.8')).toEqual([46.2, 41.8]);
    expect(readings('meter,reading_W\nreference,0.0462W\ncandidate,0.0418 W')).toEqual([
      46.2, 41.8,
    ]);
    expect(readings('meter,reading_uW\nreference,46200 µW\ncandidate,41800 uW')).toEqual([
      46.2, 41.8,
    ]);
  });

  test('of their own is read where every cell has one, and no digit is lost', () => {
    expect(readings('meter,reading_mW\nreference,0.0462 W\ncandidate,41.8 mW')).toEqual([
      46.2, 41.8,
    ]);
    expect(readings('meter,reading\nreference,46.2 mW\ncandidate,41800 µW')).toEqual([46.2, 41.8]);
    expect(readings('reference_mW,candidate_mW\n46.2 mW,0.0418 W')).toEqual([46.2, 41.8]);
  });

  test('goes with a decimal comma', () => {
    expect(readings('meter;reading_mW\nreference;46,2 mW\ncandidate;41,8 mW')).toEqual([
      46.2, 41.8,
    ]);
    expect(readings('meter;reading\nreference;0,0462 W\ncandidate;41,8 mW')).toEqual([46.2, 41.8]);
  });

  test('is read with wavelengths too', () => {
    const study = studyOf(
      'meter,reading_mW,wavelength_nm\nreference,46.2,520 nm\ncandidate,41.8,520',
    );
    expect(study.series[0]?.wavelength_nm).toBe(520);
  });

  test('of another kind than the heading’s, beside cells without one, is refused', () => {
    const error = errorOf(() => studyOf('meter,reading_mW\nreference,0.0462 W\ncandidate,41.8'));
    expect(error).toMatchObject({ code: 'cell-not-a-number', row: 2, found: '"0.0462 W"' });
    expect(error.message).toContain('not all cells of the column carry one');
  });

  test('that is no unit of power stays refused', () => {
    expect(
      errorOf(() => studyOf('meter,reading_mW\nreference,46.2 dB\ncandidate,41.8 dB')),
    ).toMatchObject({
      code: 'cell-not-a-number',
    });
  });

  test('of a bare heading of which one cell has none is refused', () => {
    expect(() => readings('meter,reading\nreference,46.2 mW\ncandidate,41.8')).toThrow(
      /reading_mW/,
    );
  });
});

test('headings in words are asked about, never taken', () => {
  const error = errorOf(() => studyOf('meter,Power (mW)\nreference,46.2\ncandidate,41.8'));
  expect([error, ...error.others].map(({ message }) => message).join(' ')).toContain(
    'Is "Power (mW)" this column? Then call it reading_mW.',
  );
});
