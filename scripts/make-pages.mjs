// npm run pages                 runs every notebook and keeps it as a page: docs/notebooks, docs/lessons
// npm run pages -- NAME ...     these notebooks only
// npm run pages -- --anew       draws every figure again, the unchanged ones too
// npm run pages -- --check      compares text and numbers with the pages kept; writes nothing
// npm run pages -- --jupyter    the same, with every notebook run by Jupyter instead of headless
//
// A picture carries a digest of its numbers in its name, so the check needs no browser. Drawing needs
// Chromium on the PATH (or in CHROMIUM).
import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { drawFigures } from '../dist/inside.js';
import { runNotebook } from '../dist/notebook/index.js';
import { aboutNotebook, indexPage, markdownPage } from './pages/markdownPage.mjs';
import { smallPng } from './pages/smallPng.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
/** Largest page with its pictures, bytes. */
const MOST_BYTES = 400 * 1024;
const PARTS = [
  { heading: 'Notebooks', from: 'notebooks', to: 'docs/notebooks' },
  { heading: 'Lessons', from: 'notebooks/lessons', to: 'docs/lessons' },
];
const INDEX = 'docs/notebooks/README.md';

const args = process.argv.slice(2);
const byJupyter = args.includes('--jupyter');
const check = byJupyter || args.includes('--check');
const anew = args.includes('--anew');
const asked = args.filter((one) => !one.startsWith('--'));
const KNOWN = ['--check', '--anew', '--jupyter'];
const unknown = args.filter((one) => one.startsWith('--') && !KNOWN.includes(one));

const all = PARTS.flatMap(({ from, to }) =>
  readdirSync(join(root, from))
    .filter((name) => name.endsWith('.ipynb'))
    .sort()
    .map((name) => [`${from}/${name}`, `${to}/${name.replace(/ipynb$/, 'md')}`]),
);
const pages = new Map(all);
const nameOf = (path) => basename(path).replace(/\.\w+$/, '');
const strange = [...unknown, ...asked.filter((one) => !all.some(([path]) => nameOf(path) === one))];
if (strange.length > 0) {
  console.error(
    `Not understood: ${strange.join(', ')}. Names: ${[...pages.keys()].map(nameOf).join(', ')}`,
  );
  process.exit(2);
}

const faults = [];
const chosen = all.filter(([path]) => asked.length === 0 || asked.includes(nameOf(path)));
const executed = byJupyter ? throughJupyter(chosen.map(([notebook]) => notebook)) : null;
for (const [notebook, page] of chosen) {
  const path = join(root, notebook);
  const run =
    executed?.get(notebook) ?? (await runNotebook({ notebook: path, cwd: dirname(path) }));
  const isThere = (file) => existsSync(join(root, file));
  const { markdown, figures } = markdownPage(run, { notebook, page, pages, isThere, clean });
  requireNoPlaces(page, markdown);
  const pictures = figures.map(({ id }) => `${dirname(page)}/figures/${id}.png`);
  if (check) {
    compare(page, markdown);
    const missing = pictures.filter((one) => !isThere(one));
    faults.push(...missing.map((one) => `${one} is missing: its figure has changed.`));
    faults.push(...left(page, pictures).map((one) => `${one} is on no page.`));
  } else {
    await write(page, markdown, figures, pictures);
  }
}
const index = indexPage(
  PARTS.map(({ heading, from }) => ({
    heading,
    pages: all
      .filter(([notebook]) => dirname(notebook) === from)
      .map(([notebook, page]) => ({
        ...aboutNotebook(JSON.parse(readFileSync(join(root, notebook), 'utf8'))),
        link: dirname(page) === dirname(INDEX) ? basename(page) : `../lessons/${basename(page)}`,
      })),
  })),
);
if (check) compare(INDEX, index);
else writeFileSync(join(root, INDEX), index);
for (const gone of withoutNotebook()) {
  if (check) faults.push(`${gone} has no notebook.`);
  else rmSync(join(root, gone));
}

for (const fault of faults) console.error(fault);
if (faults.length > 0) {
  console.error(`${faults.length} faults. \`npm run pages\` makes the pages anew.`);
  process.exitCode = 1;
} else if (check) {
  console.log(
    `${byJupyter ? 'Run by Jupyter: text' : 'Text'} and numbers of ${chosen.length} pages are current; pictures were not compared.`,
  );
}

/** Every notebook as Jupyter executes it, by its path. */
function throughJupyter(notebooks) {
  const prepared = spawnSync(process.execPath, [join(root, 'scripts/notebooks.mjs'), '--prepare']);
  if (prepared.status !== 0) throw new Error(String(prepared.stderr));
  const out = mkdtempSync(join(tmpdir(), 'meterpair-pages-'));
  try {
    const { status, stderr, error } = spawnSync(
      'jupyter',
      [
        ...['nbconvert', '--to', 'notebook', '--execute', '--output-dir', out],
        ...['--ExecutePreprocessor.kernel_name=tslab', '--ExecutePreprocessor.timeout=300'],
        ...notebooks.map((one) => join(root, one)),
      ],
      { env: { ...process.env, JUPYTER_PATH: join(root, 'dist/jupyter') }, encoding: 'utf8' },
    );
    if (status !== 0) throw error ?? new Error(stderr);
    const read = (one) => JSON.parse(readFileSync(join(out, basename(one)), 'utf8'));
    return new Map(notebooks.map((one) => [one, read(one)]));
  } finally {
    rmSync(out, { recursive: true });
  }
}

/** Folders that a notebook makes anew each time, and this project's own. */
function clean(text) {
  const temporary = new RegExp(`${literal(tmpdir())}/[\\w.-]+-\\w{6}(?=/|\\b)`, 'g');
  return text.replaceAll(temporary, '…').replaceAll(`${root}/`, '');
}

function literal(text) {
  return text.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&');
}

function requireNoPlaces(page, markdown) {
  const found = [root, `${tmpdir()}/`, `${homedir()}/`].filter((one) => markdown.includes(one));
  if (found.length > 0)
    throw new Error(`${page} names a place on this machine: ${found.join(', ')}`);
}

async function write(page, markdown, figures, pictures) {
  mkdirSync(join(root, dirname(page), 'figures'), { recursive: true });
  for (const one of left(page, pictures)) rmSync(join(root, one));
  const missing = figures.filter((_, i) => anew || !existsSync(join(root, pictures[i])));
  const drawn = await drawFigures(missing, { format: 'png', width: 720, scale: 1 });
  for (const { name, bytes } of drawn) {
    writeFileSync(join(root, dirname(page), 'figures', name), smallPng(bytes));
  }
  writeFileSync(join(root, page), markdown);
  const bytes = [page, ...pictures].reduce(
    (sum, one) => sum + readFileSync(join(root, one)).length,
    0,
  );
  console.log(`${page}: ${figures.length} figures, ${Math.ceil(bytes / 1024)} KB`);
  if (bytes > MOST_BYTES) faults.push(`${page} is larger than ${MOST_BYTES / 1024} KB.`);
}

/** Pictures of a page that it no longer shows. */
function left(page, pictures) {
  const folder = `${dirname(page)}/figures`;
  if (!existsSync(join(root, folder))) return [];
  return readdirSync(join(root, folder))
    .filter((name) => name.replace(/-\d+-[0-9a-f]{8}\.png$/, '') === nameOf(page))
    .map((name) => `${folder}/${name}`)
    .filter((one) => !pictures.includes(one));
}

/** Pages and pictures whose notebook is gone. */
function withoutNotebook() {
  const names = new Set(all.map(([, page]) => page.replace(/\.md$/, '')));
  return PARTS.flatMap(({ to }) =>
    (existsSync(join(root, to)) ? readdirSync(join(root, to), { recursive: true }) : [])
      .filter((name) => /\.(?:md|png)$/.test(name))
      .map((name) => `${to}/${name}`)
      .filter(
        (path) =>
          path !== INDEX &&
          !names.has(path.replace('/figures/', '/').replace(/(?:-\d+-[0-9a-f]{8})?\.\w+$/, '')),
      ),
  );
}

function compare(page, markdown) {
  if (!existsSync(join(root, page))) {
    faults.push(`${page} is missing.`);
    return;
  }
  const kept = readFileSync(join(root, page), 'utf8').split('\n');
  const fresh = markdown.split('\n');
  const line = fresh.findIndex((text, i) => text !== kept[i]);
  if (line < 0 && kept.length === fresh.length) return;
  const at = line < 0 ? fresh.length : line;
  faults.push(
    `${page}:${at + 1} is not current.\n  kept: ${kept[at] ?? '(nothing)'}\n  now:  ${fresh[at] ?? '(nothing)'}`,
  );
}
