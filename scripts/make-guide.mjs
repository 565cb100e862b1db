// npm run guide                  plays the evening of docs/guide.md: what the commands print, and the pictures
// npm run guide -- NAME ...      these pictures only
// npm run guide -- --check       compares what the commands print with the guide; writes and draws nothing
//
// Pictures need Chromium on the PATH (or in CHROMIUM). They differ with the browser, so no test compares
// them; the texts are compared by test/commands/guide.test.ts.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { takePictures } from './guide/pictures.mjs';
import { playTranscripts, withTranscripts } from './guide/transcripts.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const GUIDE = join(root, 'docs', 'guide.md');
const names = process.argv.slice(2);
const check = names.includes('--check');

const from = mkdtempSync(join(tmpdir(), 'meterpair-guide-'));
process.on('exit', () => rmSync(from, { recursive: true, force: true }));

const kept = readFileSync(GUIDE, 'utf8');
const now = withTranscripts(kept, await playTranscripts(from));
if (!check) {
  writeFileSync(GUIDE, now);
  await takePictures(from, join(root, 'docs', 'figures', 'guide'), names);
} else if (now !== kept) {
  const lines = now.split('\n');
  const at = kept.split('\n').findIndex((line, i) => line !== lines[i]);
  console.error(`docs/guide.md:${at + 1} is not current. Now: ${lines[at] ?? '(nothing)'}`);
  process.exitCode = 1;
}
