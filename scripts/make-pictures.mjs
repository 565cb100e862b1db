// node scripts/make-pictures.mjs
// Makes the pictures of README.md of the demo study: run `npm run build` first, and `npm start` for the
// card. Needs Chromium on the PATH (or in CHROMIUM).
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { analyse, readStudy } from '../dist/index.js';
import { drawFigures, reportFigures } from '../dist/inside.js';
import { startChromium } from './pages/chromium.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const out = join(root, 'docs', 'figures');
mkdirSync(out, { recursive: true });

const study = await readStudy(join(root, 'data-demo', '1-workshop-evening'));
const shown = reportFigures(study, analyse(study)).filter((one) => one.id === 'before-after');
for (const { name, bytes } of await drawFigures(shown, { format: 'png', width: 860, scale: 2 })) {
  writeFileSync(join(out, name), bytes);
  console.log(`docs/figures/${name}`);
}

const report = join(root, 'report', 'report.html');
if (existsSync(report)) await pictureOfCard(report);
else console.error('There is no report yet, so the card was not renewed: run npm start first.');

async function pictureOfCard(file) {
  const browser = await startChromium();
  const page = await browser.newPage({ viewport: { width: 960, height: 1200 } });
  await page.goto(pathToFileURL(file).href);
  await page
    .locator('.beside > :first-child')
    .screenshot({ path: join(out, 'correction-card.png') });
  console.log('docs/figures/correction-card.png');
  await browser.close();
}
