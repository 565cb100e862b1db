// node scripts/make-pictures.mjs
// Makes the pictures of README.md from the report of the demo study: run `npm start` first. Needs
// Chromium on the PATH (or in CHROMIUM).
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const report = join(root, 'report', 'report.html');
const out = join(root, 'docs', 'figures');
if (!existsSync(report)) {
  console.error('There is no report yet: run npm start first.');
  process.exit(1);
}
const executablePath =
  process.env.CHROMIUM ?? execFileSync('which', ['chromium'], { encoding: 'utf8' }).trim();
mkdirSync(out, { recursive: true });
const browser = await chromium.launch({
  executablePath,
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-sync'],
});
const page = await browser.newPage({ viewport: { width: 960, height: 1200 } });
await page.goto(pathToFileURL(report).href);
await page.waitForSelector('.js-plotly-plot .main-svg');
await page.waitForTimeout(1500);
const pictures = [
  ['correction-card.png', '.beside'],
  ['factors.png', '#evidence figure'],
];
for (const [file, selector] of pictures) {
  await page
    .locator(selector)
    .first()
    .screenshot({ path: join(out, file) });
  console.log(`docs/figures/${file}`);
}
await browser.close();
