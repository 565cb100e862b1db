// npm run build              compiles src/ to dist/, unless dist/ is current
// npm run build -- --anew    compiles in any case
// npm start                  does the first without looking for wrong types, and then compares (scripts/start.mjs)
//
// Takes the project's own compiler (`npx tsc` is not used: tslab installs another one under that
// name), makes the page for the bench and the minified plotting bundle, and exports the JSON Schema
// of study.json.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { once } from 'node:events';
import {
  chmodSync,
  existsSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const dist = join(root, 'dist');
const stamp = join(dist, 'built-from.txt');

const filesIn = (folder) =>
  existsSync(folder) ? readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort() : [];
const sources = filesIn(join(root, 'src')).filter((name) => name.endsWith('.ts'));
// The page for the bench: everything in one file, so that it loads nothing else.
const PAGE = join('measure', 'page.js');
// What the compiler makes of each source.
const made = new Set([
  PAGE,
  ...sources
    .filter((name) => !name.endsWith('.d.ts') && !name.startsWith(join('measure', 'page', '/')))
    .flatMap((name) => [name.replace(/ts$/, 'js'), name.replace(/ts$/, 'd.ts')]),
]);

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

/**
 * Builds what is not current; `false` when it could not. Unchecked it comes to the same files in half
 * the time, and the next build with a check does not take them for current.
 */
export async function build({ anew = false, checked = true } = {}) {
  const found = filesIn(dist);
  const wanted = [...made, 'plotly.min.js', 'plotly.min.js.gz', 'study.schema.json'];
  const from = inputs();
  const unchecked = `${from} unchecked`;
  const good = checked ? [from] : [from, unchecked];
  const current =
    existsSync(stamp) &&
    good.includes(readFileSync(stamp, 'utf8')) &&
    wanted.every((name) => found.includes(name));
  if (current && !anew) return true;

  rmSync(stamp, { force: true });
  const [compiled] = await Promise.all([compile(checked), benchPage(), plottingBundle()]);
  if (!compiled) return false;
  // A source that was moved or taken away leaves nothing behind.
  for (const name of found) {
    if (/\.(?:js|d\.ts)$/.test(name) && !wanted.includes(name)) rmSync(join(dist, name));
  }
  // `npx meterpair` runs it as a program; npm makes it one only where it is there at the installation.
  chmodSync(join(dist, 'commands', 'main.js'), 0o755);
  const { studyJsonSchema } = await import('../dist/record/studySchema.js');
  writeFileSync(join(dist, 'study.schema.json'), `${JSON.stringify(studyJsonSchema(), null, 2)}\n`);
  writeFileSync(stamp, checked ? from : unchecked);
  return true;
}

async function compile(checked) {
  const compiler = join(root, 'node_modules/typescript/bin/tsc');
  const args = ['-p', join(root, 'tsconfig.json'), ...(checked ? [] : ['--noCheck'])];
  const running = spawn(process.execPath, [compiler, ...args], { stdio: 'inherit' });
  const [status] = await once(running, 'exit');
  return status === 0;
}

async function benchPage() {
  const esbuild = await import('esbuild');
  await esbuild.build({
    entryPoints: [join(root, 'src/measure/page/main.ts')],
    outfile: join(dist, PAGE),
    bundle: true,
    format: 'esm',
    target: 'es2022',
    minify: true,
    legalComments: 'none',
    logLevel: 'error',
  });
}

async function plottingBundle() {
  const bundle = join(dist, 'plotly.min.js');
  const plotly = createRequire(import.meta.url).resolve('plotly.js-dist');
  const packed = `${bundle}.gz`;
  if (existsSync(packed) && statSync(packed).mtimeMs >= statSync(plotly).mtimeMs) return;
  const esbuild = await import('esbuild');
  const quiet = { minify: true, legalComments: 'none', logLevel: 'error' };
  await esbuild.build({ ...quiet, entryPoints: [plotly], outfile: bundle });
  writeFileSync(packed, gzipSync(readFileSync(bundle), { level: 9 }));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.exitCode = (await build({ anew: process.argv.includes('--anew') })) ? 0 : 1;
}
