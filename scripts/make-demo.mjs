// Writes the invented studies of data-demo/ anew. Run by hand after a build:
//   npm run build && node scripts/make-demo.mjs
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { demoScenarios, virtualStudy } from '../dist/index.js';

const root = fileURLToPath(new URL('../data-demo', import.meta.url));
for (const scenario of demoScenarios) {
  const folder = join(root, scenario.folder);
  await mkdir(folder, { recursive: true });
  const { files } = virtualStudy(scenario);
  for (const [name, content] of Object.entries(files)) {
    await writeFile(join(folder, name), content);
  }
  console.log(`${scenario.folder}: ${Object.keys(files).join(', ')}`);
}
