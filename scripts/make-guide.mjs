// npm run guide                  plays the evening of docs/guide.md: what the commands print, and the pictures
// npm run guide -- NAME ...      these pictures only
//
// Pictures need Chromium on the PATH (or in CHROMIUM). They differ with the browser, so no test compares
// them; the texts are held by test/commands/guide.test.ts.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { takePictures } from './guide/pictures.mjs';
import { playTerminals, withTerminals } from './guide/terminals.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const GUIDE = join(root, 'docs', 'guide.md');

const from = mkdtempSync(join(tmpdir(), 'meterpair-guide-'));
process.on('exit', () => rmSync(from, { recursive: true, force: true }));

const texts = await playTerminals(from);
writeFileSync(GUIDE, withTerminals(readFileSync(GUIDE, 'utf8'), texts));
await takePictures(from, join(root, 'docs', 'figures', 'guide'), process.argv.slice(2));
