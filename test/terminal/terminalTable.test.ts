import { describe, expect, it } from 'vitest';
import { terminalTable } from '../../src/terminal/terminalTable.js';
import type { Result } from '../../src/vocabulary.js';
import { exampleResult } from '../report/exampleResult.js';

const widest = (text: string) => Math.max(...text.split('\n').map((line) => [...line].length));

describe('terminalTable', () => {
  it('fits 80 columns and says factor, uncertainty, range and verdict', () => {
    const text = terminalTable(exampleResult());
    expect(widest(text)).toBeLessThanOrEqual(80);
    const row = text.split('\n').find((line) => line.trimStart().startsWith('405'));
    expect(row).toMatch(/1\.1\d\d +(± 0\.0\d\d|1\.\d+ to 1\.\d+) +\d+ to \d+ mW +correct it/);
    expect(text).toContain('K = reference\n÷ candidate');
    expect(text).toMatch(/^3 warnings/m);
  });

  it('offers no factor where the data cannot tell, and says what would', () => {
    const text = terminalTable(exampleResult());
    const row = text.split('\n').find((line) => line.trimStart().startsWith('532'));
    expect(row).toMatch(/532 +— +— +— +this data cannot/);
    expect(text.replaceAll('\n', ' ')).toContain('Repeat with a steadier source');
  });

  it('says where a corrected reading is not known to the tolerance', () => {
    const result = exampleResult();
    const wavelengths = result.wavelengths.map((one) =>
      one.wavelength_nm === 405 ? { ...one, corrected_reading_relative_U: 0.074 } : one,
    );
    const text = terminalTable({ ...result, wavelengths }).replaceAll(/\n */g, ' ');
    expect(text).toContain('! 405 nm: a reading corrected on another day is known to ± 7.4 % only');
    expect(terminalTable(result)).not.toContain('another day');
  });

  it('marks a source that its label understates and defers to those who decide', () => {
    const text = terminalTable(exampleResult()).replaceAll(/\n */g, ' ');
    expect(text).toContain('! violet marker, 405 nm: up to 96.1 mW. Class 3B');
    expect(text).toContain('more hazardous than labelled');
    expect(text).toContain('Cannot exclude class 3B');
    expect(text).toContain('IEC 60825-1, local rules and a laser safety officer decide');
  });

  it('says where re-checks are out of control, and nothing of a chart without several', () => {
    const text = terminalTable(exampleResult()).replaceAll(/\n */g, ' ');
    expect(text).toContain('All re-checks on a chart: Oldest first, in the order given: "Made-up');
    expect(text).toContain('- 638 nm, out of control: Of 3 re-checks these stand out: 3 (beyond');
    expect(text).toContain('From the first to the last: −3.8 % (−6.0 to −1.6 %), has moved.');
    expect(text).toContain('- 808 nm, no chart: A chart needs 3 values');
    expect(terminalTable({ ...exampleResult(), re_checks: null })).not.toContain('re-checks');
  });

  it('survives long and hostile names', () => {
    const result: Result = {
      ...exampleResult(),
      candidate: `\u001b[2J${'x'.repeat(200)}`,
      hazard: exampleResult().hazard.map((one) => ({
        ...one,
        source: '\u001b]0;evil\u0007'.repeat(30),
      })),
    };
    const text = terminalTable(result);
    expect(widest(text)).toBeLessThanOrEqual(80);
    expect(text).not.toContain('\u001b');
    expect(text).not.toContain('\u0007');
  });

  it('never prints null, NaN or undefined, even with nothing measured', () => {
    const empty: Result = { ...exampleResult(), wavelengths: [], hazard: [], warnings: [] };
    for (const text of [terminalTable(exampleResult()), terminalTable(empty)]) {
      expect(text).not.toMatch(/null|NaN|undefined|Infinity/);
    }
    expect(terminalTable(empty)).toContain('There is no wavelength with a comparison.');
    expect(terminalTable(empty)).toContain('No warnings.');
  });
});
