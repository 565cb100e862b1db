import { describe, expect, it } from 'vitest';
import { type Cell, type CellKind, cellText, headOf, numbers } from '../../src/findings/finding.js';

describe('a cell', () => {
  // Kind of number, cell, text: one row for each way a number may be printed in a table.
  it.each<readonly [CellKind, Cell, string]>([
    ['text', 'as it stands', 'as it stands'],
    ['text', '', '—'],
    ['count', 12, '12'],
    ['number', 520, '520'],
    ['power', 61.2345, '61.23'],
    ['bound', 5.00001, '5.01'],
    ['value', { value: 1.21616, U: 0.045 }, '1.216'],
    ['value', { value: 1.2, U: 0.045, both: true }, '1.200 ± 0.045'],
    ['value', { value: 1.2, U: null }, '1.2'],
    ['value', 1.2, '1.200'],
    ['percent', -4.13, '−4.1'],
    ['percent', 5, '5.0'],
    ['percent', [-6.82, -1.19], '−6.8 to −1.2'],
    ['fraction', 0.0312, '3.1'],
    ['fraction', { value: 0.0815, U: 0.0096, both: true }, '8.15 ± 0.96'],
    ['k', 2, '2.00'],
    ['dof', 255, 'many'],
    ['p', 0.00002, '< 0.001'],
    ['number', [null, null], '—'],
    ['value', null, '—'],
    ['value', { value: null, U: null }, '—'],
  ])('of the kind %s, %j, is %s', (kind, cell, text) => {
    expect(cellText({ kind }, cell)).toBe(text);
  });

  it('carries no unit: that stands in the head, once', () => {
    expect(headOf(numbers('percent', 'Bend', '%'))).toBe('Bend / %');
    expect(headOf(numbers('dof', 'ν'))).toBe('ν');
  });
});
