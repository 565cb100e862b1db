// npm ci in a clone runs this: everything that the first comparison would otherwise wait for
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from './build.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
if (await build({ checked: false })) {
  const { compileNotebook } = await import('../dist/inside.js');
  const folder = join(root, 'notebooks');
  await compileNotebook(join(folder, '2-compare.ipynb'), folder, ['study-folder']);
} else {
  process.exitCode = 1;
}
