// npm run build              makes dist/ of src/, unless dist/ is current
// npm run build -- --anew    makes it in any case
// npm start                  does the first without looking for wrong types, and then compares (scripts/start.mjs)
//
// The programs are bundled, since a few files load sooner than several hundred; their declarations come
// from the project's own compiler (`npx tsc` is not used: tslab installs another one under that name).
// Makes the page for the bench and the minified plotting bundle too, and the JSON Schema of study.json.
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
const stamp = join(dist, 'built-from.json');

/** The doors of the package and the command: dist/ has them under their own names. */
const DOORS = ['index', 'methods', 'notebook/index', 'commands/main'];
/** What the scripts and tests of the project run from dist/ besides. */
const LOOKED_INTO = ['inside', 'commands/compare', 'commands/writeOutputs'];
/** The page for the bench: everything in one file, so that it loads nothing else. */
const PAGE = 'measure/page.js';
const LICENCES = 'licences-of-others.txt';
const DATA = ['plotly.min.js', 'plotly.min.js.gz', 'study.schema.json', LICENCES];

const packageJson = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
const filesIn = (folder) =>
  existsSync(folder) ? readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort() : [];
const sources = filesIn(join(root, 'src')).filter((name) => name.endsWith('.ts'));
const inputs = [
  ...['package-lock.json', 'package.json', 'tsconfig.json'],
  'scripts/build.mjs',
  ...sources.map((name) => join('src', name)),
];

/** Tells in a few milliseconds that no input was touched. */
function untouched() {
  return digest(inputs, (name) => {
    const { size, mtimeMs, ctimeMs } = statSync(join(root, name));
    return `${size} ${mtimeMs} ${ctimeMs}`;
  });
}

/** Tells that the inputs are the same, touched or not. */
function content() {
  return digest(inputs, (name) => readFileSync(join(root, name)));
}

function digest(names, of) {
  const hash = createHash('sha256');
  for (const name of names) hash.update(`${name}\0`).update(of(name)).update('\0');
  return hash.digest('hex');
}

/**
 * Builds what is not current; `false` when it could not. Unchecked it comes to the same files sooner,
 * and the next build with a check does not take them for current.
 */
export async function build({ anew = false, checked = true } = {}) {
  const before = anew ? null : standing();
  if (before !== null && (before.checked || !checked)) return true;

  rmSync(stamp, { force: true });
  // Of what is built now: a source that changes meanwhile is built again next time.
  const from = { content: content(), untouched: untouched() };
  const [declared, programs] = await Promise.all([
    declarations(checked),
    bundles(),
    plottingBundle(),
  ]);
  if (!declared) return false;
  const { studyJsonSchema } = await import('../dist/index.js');
  writeFileSync(join(dist, 'study.schema.json'), `${JSON.stringify(studyJsonSchema(), null, 2)}\n`);
  const files = [...programs, ...declarationFiles(), ...DATA];
  // A source that was moved or taken away leaves nothing behind.
  for (const name of filesIn(dist)) {
    if (/\.(?:js|d\.ts)$/.test(name) && !files.includes(name)) rmSync(join(dist, name));
  }
  // `npx meterpair` runs it as a program; npm makes it one only where it is there at the installation.
  chmodSync(join(dist, 'commands/main.js'), 0o755);
  keepStamp({ ...from, checked, files });
  return true;
}

/** What the last build made, where it is whole and of the same inputs; else `null`. */
function standing() {
  const before = readStamp();
  if (before === null) return null;
  const found = new Set(filesIn(dist));
  if (!before.files.every((name) => found.has(name))) return null;
  const now = untouched();
  if (before.untouched === now) return before;
  if (before.content !== content()) return null;
  try {
    keepStamp({ ...before, untouched: now });
  } catch {
    // A folder that is closed to us: read all next time too.
  }
  return before;
}

/** `null` where there is none, or half of one. */
function readStamp() {
  try {
    return JSON.parse(readFileSync(stamp, 'utf8'));
  } catch {
    return null;
  }
}

function keepStamp(of) {
  writeFileSync(stamp, JSON.stringify(of));
}

const declarationFiles = () =>
  sources
    .filter((name) => !name.endsWith('.d.ts') && !name.startsWith(join('measure', 'page', '/')))
    .map((name) => name.replace(/ts$/, 'd.ts'));

async function declarations(checked) {
  const compiler = join(root, 'node_modules/typescript/bin/tsc');
  const args = ['-p', join(root, 'tsconfig.json'), ...(checked ? [] : ['--noCheck'])];
  const running = spawn(process.execPath, [compiler, ...args], { stdio: 'inherit' });
  const [status] = await once(running, 'exit');
  return status === 0;
}

/** The programs and the page; gives the names of all files made. */
async function bundles() {
  const esbuild = await import('esbuild');
  const common = { bundle: true, format: 'esm', legalComments: 'none', logLevel: 'error' };
  const { metafile } = await esbuild.build({
    ...common,
    absWorkingDir: root,
    entryPoints: [...DOORS, ...LOOKED_INTO].map((name) => `src/${name}.ts`),
    outbase: 'src',
    outdir: 'dist',
    splitting: true,
    // As deep as the rooms, so that a path from a file of ours to the package is the same in all.
    chunkNames: 'parts/[name]-[hash]',
    platform: 'node',
    target: 'node20',
    // All others come along: forty files of ours load sooner than hundreds of theirs, and nothing is left to install.
    external: Object.keys(packageJson.peerDependencies),
    metafile: true,
  });
  writeFileSync(join(dist, LICENCES), licencesOf(Object.keys(metafile.inputs)));
  await esbuild.build({
    ...common,
    entryPoints: [join(root, 'src/measure/page/main.ts')],
    outfile: join(dist, PAGE),
    target: 'es2022',
    minify: true,
  });
  return [...Object.keys(metafile.outputs).map((name) => name.slice('dist/'.length)), PAGE];
}

/** What the licences of the packages in the bundles ask to be kept with them. */
function licencesOf(bundled) {
  const folders = [...bundled, 'node_modules/plotly.js-dist/package.json'].flatMap(
    (path) => /^node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path) ?? [],
  );
  return [...new Set(folders)]
    .sort()
    .map((folder) => {
      const { name, version } = JSON.parse(
        readFileSync(join(root, folder, 'package.json'), 'utf8'),
      );
      const [file] = readdirSync(join(root, folder)).filter((one) => /^licen[cs]e/i.test(one));
      return `${name} ${version}\n\n${readFileSync(join(root, folder, file), 'utf8').trim()}\n`;
    })
    .join(`\n${'-'.repeat(72)}\n\n`);
}

async function plottingBundle() {
  const bundle = join(dist, 'plotly.min.js');
  const plotly = createRequire(import.meta.url).resolve('plotly.js-dist');
  const packed = `${bundle}.gz`;
  const since = Math.max(
    ...[plotly, fileURLToPath(import.meta.url)].map((path) => statSync(path).mtimeMs),
  );
  if (existsSync(packed) && statSync(packed).mtimeMs >= since) return;
  const esbuild = await import('esbuild');
  const quiet = { minify: true, legalComments: 'none', logLevel: 'error' };
  await esbuild.build({ ...quiet, entryPoints: [plotly], outfile: bundle });
  writeFileSync(packed, gzipSync(readFileSync(bundle), { level: 9 }));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.exitCode = (await build({ anew: process.argv.includes('--anew') })) ? 0 : 1;
}
