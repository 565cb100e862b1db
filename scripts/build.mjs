// npm run build              compiles src/ to dist/, unless dist/ is current
// npm run build -- --anew    compiles in any case
//
// Takes the project's own compiler (`npx tsc` is not used: tslab installs another one under that
// name), makes the minified plotting bundle and exports the JSON Schema of study.json.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const dist = join(root, 'dist');
const stamp = join(dist, 'built-from.txt');

const filesIn = (folder) =>
  existsSync(folder) ? readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort() : [];
const sources = filesIn(join(root, 'src')).filter((name) => name.endsWith('.ts'));
// What the compiler makes of each source.
const made = new Set(
  sources
    .filter((name) => !name.endsWith('.d.ts'))
    .flatMap((name) => [name.replace(/ts$/, 'js'), name.replace(/ts$/, 'd.ts')]),
);

/** A digest of all that the build depends on. */
function inputs() {
  const hash = createHash('sha256');
  const others = ['package-lock.json', 'package.json', 'tsconfig.json', 'scripts/build.mjs'];
  for (const name of [...others, ...sources.map((source) => join('src', source))]) {
    hash
      .update(`${name}\0`)
      .update(readFileSync(join(root, name)))
      .update('\0');
  }
  return hash.digest('hex');
}

const found = filesIn(dist);
const wanted = [...made, 'plotly.min.js', 'study.schema.json'];
const from = inputs();
const current =
  existsSync(stamp) &&
  readFileSync(stamp, 'utf8') === from &&
  wanted.every((name) => found.includes(name));
if (current && !process.argv.includes('--anew')) process.exit(0);

rmSync(stamp, { force: true });
const compile = spawnSync(
  process.execPath,
  [join(root, 'node_modules/typescript/bin/tsc'), '-p', join(root, 'tsconfig.json')],
  { stdio: 'inherit' },
);
if (compile.status !== 0) process.exit(compile.status ?? 1);
// A source that was moved or taken away leaves nothing behind.
for (const name of found) {
  if (/\.(?:js|d\.ts)$/.test(name) && !made.has(name)) rmSync(join(dist, name), { force: true });
}

const require = createRequire(import.meta.url);
const bundle = join(dist, 'plotly.min.js');
const plotly = require.resolve('plotly.js-dist');
if (!existsSync(bundle) || statSync(bundle).mtimeMs < statSync(plotly).mtimeMs) {
  const { build } = await import('esbuild');
  const quiet = { minify: true, legalComments: 'none', logLevel: 'error' };
  await build({ ...quiet, entryPoints: [plotly], outfile: bundle });
}
const { studyJsonSchema } = await import('../dist/record/studySchema.js');
writeFileSync(join(dist, 'study.schema.json'), `${JSON.stringify(studyJsonSchema(), null, 2)}\n`);
writeFileSync(stamp, from);
