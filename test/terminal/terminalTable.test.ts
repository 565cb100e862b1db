import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { readStudy } from '../../src/record/readStudy.js';
import { terminalTable } from '../../src/terminal/terminalTable.js';
import type { Result } from '../../src/vocabulary.js';
import { exampleResult } from '../report/exampleResult.js';

const widest = (text: string) => Math.max(...text.split('\n').map((line) => [...line].length));

describe('terminalTable', () => {
  it('fits 80 columns and says factor, uncertainty, range and verdict', () => {
    const text = terminalTable(exampleResult());
    expect(widest(text)).toBeLessThanOrEqual(80);
    const row = text.split('\n').find((line) => line.trimStart().startsWith('405'));
    expect(row).toMatch(/405 +\d+ to \d+ +1\.1\d\d +3\.\d +correct it/);
    expect(text).toContain('At / nm');
    expect(text.replaceAll('\n', ' ')).toMatch(/3 warnings/);
  });

  it('offers no factor where the data cannot tell, and says what would', () => {
    const text = terminalTable(exampleResult());
    const row = text.split('\n').find((line) => line.trimStart().startsWith('532'));
    expect(row).toMatch(/532 +— +— +— +this data cannot tell you/);
    expect(text.replaceAll('\n', ' ')).toContain('Next: 532 nm: Repeat with a steadier source');
  });

  it('says where a corrected reading is not known to the tolerance', () => {
    const result = exampleResult();
    const wavelengths = result.wavelengths.map((one) =>
      one.wavelength_nm === 405 ? { ...one, corrected_reading_relative_U: 0.074 } : one,
    );
    const text = terminalTable({ ...result, wavelengths }).replaceAll(/\n */g, ' ');
    expect(text).toContain('! 405 nm (± 7.4 %): one corrected reading may be off by more');
    expect(terminalTable(result)).not.toContain('one corrected reading');
  });

  it('marks a source that its label understates and defers to those who decide', () => {
    const text = terminalTable(exampleResult()).replaceAll(/\n */g, ' ');
    expect(text).toContain(
      '! violet marker, 405 nm: more hazardous than labelled. Up to 96.1 mW, class 3B',
    );
    expect(text).toContain('class 3B not excluded');
    expect(text).toContain('IEC 60825-1 and a laser safety officer decide');
  });

  it('has every reason for doubt that bears on a factor, and every entry that looks like a slip', () => {
    const result = exampleResult();
    const warnings = ['reference-contradicted', 'certificate-out-of-date'].map((code) => ({
      code,
      message: `About ${code}.`,
    }));
    const text = terminalTable({ ...result, warnings });
    for (const { message } of warnings) expect(text).toContain(`! ${message}`);
    expect(text.replaceAll('\n', ' ')).toContain('2 warnings, the worst above');
  });

  it('says the worst warning in words where none bears on a factor', () => {
    const warnings = [{ code: 'order-default', message: 'The order was not stated.' }];
    const text = terminalTable({ ...exampleResult(), warnings }).replaceAll('\n', ' ');
    expect(text).toContain('1 warning in report.html, the worst: The order was not stated.');
  });

  it('is the answer of the demo in at most 25 lines', async () => {
    const folder = new URL('../../data-demo/1-workshop-evening', import.meta.url);
    const result = analyse(await readStudy(fileURLToPath(folder)));
    const lines = terminalTable(result).trimEnd().split('\n');
    expect(lines.length).toBeLessThanOrEqual(25);
    expect(lines.every((line) => !/\d$/.test(line) || !/^ *(?:mW|nm|%)/.test(line))).toBe(true);
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
