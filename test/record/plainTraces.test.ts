import { describe, expect, test } from 'vitest';
import { plainTraces } from '../../src/record/plainTraces.js';

/** Columns run, elapsed_s, reading; what each owner holds, or `null` for what is not plain. */
function read(lines: string, shift = 0, separator: ',' | ';' = ',') {
  const owners = new Map<string, { elapsed_s: number[]; reading_mW: number[] }>();
  const asked: string[] = [];
  const plain = plainTraces(
    [lines],
    separator,
    {
      count: 3,
      elapsed: 1,
      reading: 2,
      shift,
      strange: ['"', ...(separator === ',' ? [] : [','])],
    },
    (cells, row) => {
      const [run = ''] = cells;
      asked.push(`${row}: ${run}`);
      if (run === 'none') return null;
      const owner = owners.get(run) ?? { elapsed_s: [], reading_mW: [] };
      owners.set(run, owner);
      return owner;
    },
  );
  return plain ? { owners: Object.fromEntries(owners), asked } : null;
}

test('numbers go to their owners, who are asked for where the other cells change', () => {
  expect(read('1,0,0.25\n1,0.5,-3\n12,0,7.125\n1,2,5.\n')).toEqual({
    owners: {
      1: { elapsed_s: [0, 0.5, 2], reading_mW: [0.25, -3, 5] },
      12: { elapsed_s: [0], reading_mW: [7.125] },
    },
    asked: ['2: 1', '4: 12', '5: 1'],
  });
  expect(read('1;0;5', 0, ';')?.owners).toEqual({ 1: { elapsed_s: [0], reading_mW: [5] } });
});

test('a reading in W or µW becomes mW without a rounding error, the time stays', () => {
  expect(read('1,0.1,0.0462\n', 3)?.owners[1]).toEqual({ elapsed_s: [0.1], reading_mW: [46.2] });
  expect(read('1,0.1,46.2\n', -3)?.owners[1]).toEqual({ elapsed_s: [0.1], reading_mW: [0.0462] });
});

describe('what is not plain', () => {
  test.each([
    ['an exponent', '1,0,5e1\n'],
    ['a plus sign', '1,0,+5\n'],
    ['a space', '1, 0,5\n'],
    ['no digit', '1,0,\n'],
    ['no digit before the point', '1,0,.5\n'],
    ['two points', '1,0,1.2.3\n'],
    ['16 digits', '1,0,1.234567890123456\n'],
    ['more than any meter shows', '1,0,100000001\n'],
    ['a cell too many', '1,0,5,6\n'],
    ['a cell too few', '1,0\n'],
    ['a blank line', '1,0,5\n\n1,1,5\n'],
    ['time that runs backwards', '1,1,5\n1,0.9,5\n'],
    ['time that runs backwards over another run', '1,1,5\n2,0,5\n1,0.9,5\n'],
    ['an owner that is none', '1,0,5\nnone,1,5\n'],
  ])('%s is left to be read cell by cell', (_, lines) => {
    expect(read(lines)).toBeNull();
  });

  test('15 digits, the largest reading and a time that stands are plain', () => {
    expect(read('1,0,1.23456789012345\n1,0,100000000\n')?.owners[1]).toEqual({
      elapsed_s: [0, 0],
      reading_mW: [1.23456789012345, 1e8],
    });
  });
});

test('a trace longer than the parts that it is put together from', () => {
  const times = Array.from({ length: 10_000 }, (_, i) => i);
  const found = read(times.map((time) => `1,${time},${time / 4}\n`).join(''));
  expect(found?.owners[1]?.elapsed_s).toEqual(times);
  expect(found?.owners[1]?.reading_mW).toEqual(times.map((time) => time / 4));
  expect(found?.asked).toEqual(['2: 1']);
});
