import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { factorsFile } from '../../src/factors/factorsFile.js';
import { readFactors } from '../../src/factors/readFactors.js';
import { twelveDigits } from '../record/twelveDigits.js';
import { exampleFactors } from '../report/exampleResult.js';

const folder = mkdtempSync(join(tmpdir(), 'meterpair-test-'));

it('reads what was written, with or without a byte-order mark', async () => {
  for (const mark of ['', '\uFEFF']) {
    const path = join(folder, `factors${mark.length}.json`);
    writeFileSync(path, `${mark}${factorsFile(exampleFactors())}`);
    expect(await readFactors(path)).toEqual(twelveDigits(exampleFactors()));
  }
});

it.each([
  ['a file that is not there', 'none.json', null, 'file-missing'],
  ['a folder', '.', null, 'file-unreadable'],
  ['no JSON', 'no.json', 'factors: 1', 'factors-invalid'],
  ['a file of other things', 'other.json', '{"schema":"meterpair.result/2"}', 'factors-invalid'],
])('refuses %s', async (_what, name, content, code) => {
  const path = join(folder, name);
  if (content !== null) writeFileSync(path, content);
  await expect(readFactors(path)).rejects.toMatchObject({ code });
});
