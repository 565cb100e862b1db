// npm run bench
// Times our work and, where Python with NumPy, SciPy and pandas is there (Debian: python3-scipy,
// python3-pandas; for whole processes jupyter-nbconvert and python3-matplotlib too), theirs for the
// same work, side by side in one run. The answers have to agree first.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { analyse, parseStudy, readStudy } from '../dist/index.js';
import { fitStepResponse, passingBablokLine, theilSenLine } from '../dist/methods.js';
import { longStudy, longTrace, pointsOfALine } from './bench-data.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'meterpair-bench-'));
/** Relative difference up to which two answers are the same; curve_fit stops at 1.5e-8. */
const AGREE = 1e-5;

/** So many runs before the best of the next hundred counts as that of a warm process: all is compiled by then. */
const WARM_AFTER = 400;

async function warm(work) {
  for (let round = 0; round < WARM_AFTER; round++) await work();
  return best(work, 100);
}

async function best(work, rounds) {
  let least = Number.POSITIVE_INFINITY;
  let answer;
  for (let round = 0; round < rounds; round++) {
    const from = process.cpuUsage();
    answer = await work();
    const { user, system } = process.cpuUsage(from);
    least = Math.min(least, (user + system) / 1000);
  }
  return [least, answer];
}

const parsed = (series, rows) => {
  const { settings, runs } = longStudy(series, rows);
  return parseStudy(settings, { runs });
};
const options = { onset_s: 'fitted', drift: true };

/** A study with one trace read from its folder, and settled: [settled, time constant, onset, drift]. */
async function settle(path) {
  const [trace] = (await readStudy(path)).traces;
  const fit = fitStepResponse(trace, options);
  return [fit.settled_mW, fit.time_constant_s, fit.onset_s, fit.relative_drift_per_s].map(
    (one) => one.value,
  );
}

async function ours() {
  const found = new Map();
  for (const size of [1000, 16_000, 200_000, 1_000_000]) {
    const path = join(folder, `trace-${size}`);
    const { settings, runs } = longStudy(1, 8);
    const { elapsed_s, reading_mW } = longTrace(size);
    const rows = elapsed_s.map((time, i) => `s1,1,reference,${time},${reading_mW[i]}`);
    mkdirSync(path);
    writeFileSync(join(path, 'study.json'), JSON.stringify(settings));
    writeFileSync(join(path, 'runs.csv'), runs);
    writeFileSync(
      join(path, 'traces.csv'),
      `series,run,meter,elapsed_s,reading_mW\n${rows.join('\n')}\n`,
    );
    found.set(`trace ${size}`, await best(() => settle(path), size > 100_000 ? 3 : 10));
  }
  for (const size of [3000, 100_000]) {
    const points = pointsOfALine(size);
    writeFileSync(join(folder, `points-${size}.json`), JSON.stringify(points));
    const rounds = size > 10_000 ? 2 : 5;
    found.set(`theil-sen ${size}`, await best(() => [theilSenLine(points).slope.value], rounds));
    found.set(
      `passing-bablok ${size}`,
      await best(() => [passingBablokLine(points).slope.value], rounds),
    );
  }
  return found;
}

async function analyses() {
  const demo = await readStudy(join(here, '../data-demo/1-workshop-evening'));
  const sizes = [
    [5, 20],
    [1, 500],
    [1, 1000],
    [1, 2000],
    [1, 100_000],
    [200, 100],
  ];
  const small = parsed(5, 20);
  // First of all, as in a process that does nothing else.
  const found = new Map([['analyse, the demo study', await best(() => analyse(demo), 20)]]);
  found.set('analyse, the demo study, warm', await warm(() => analyse(demo)));
  for (const [series, rows] of sizes) {
    const study = parsed(series, rows);
    const rounds = series * rows > 10_000 ? 1 : 10;
    const name = `analyse, ${series} series of ${rows} rows`;
    found.set(name, await best(() => analyse(study), rounds));
  }
  found.set('analyse, 5 series of 20 rows, warm', await warm(() => analyse(small)));
  return found;
}

/** What a Python script says; `null` with a note where it cannot run. */
function python(script, ...args) {
  const { status, stdout, stderr } = spawnSync('/usr/bin/python3', [join(here, script), ...args], {
    encoding: 'utf8',
    env: { ...process.env, OMP_NUM_THREADS: '1' },
  });
  if (status === 0) return JSON.parse(stdout);
  const missing = /No module named '(\w+)'/.exec(stderr ?? '')?.[1];
  if (missing === undefined && stderr) console.error(stderr);
  console.log(
    `${script} not run here: ${missing === undefined ? 'no Python' : `Python without ${missing}`}.\n`,
  );
  return null;
}

/** Whole processes beside that of a Python notebook. */
function wholeProcesses() {
  const study = join(here, '../data-demo/1-workshop-evening');
  const out = ['--out', join(folder, 'report')];
  const names = {
    'npm start, the demo': ['node', join(here, 'start.mjs'), study, ...out],
    'the report alone': ['node', join(here, 'start.mjs'), study, '--no-notebook', ...out],
  };
  const found = python('bench-processes.py', folder, study, JSON.stringify(names));
  if (found === null) return;
  for (const name of Object.keys(names)) {
    const cells = [found[name].toFixed(0), found.peer.toFixed(0)];
    console.log(`| ${name} | ${cells.join(' | ')} | ${(found[name] / found.peer).toFixed(2)} |`);
  }
}

let differ = 0;
try {
  const own = new Map([...(await analyses()), ...(await ours())]);
  const { found, numpy, pandas } = python('bench-peers.py', folder) ?? { found: {} };
  console.log(
    `Node.js ${process.versions.node}${numpy ? `, NumPy ${numpy}, pandas ${pandas}` : ''}; processor time, best of several runs, ms\n`,
  );
  console.log('| work | ours | peers | ratio |\n|---|---:|---:|---:|');
  for (const [name, [took, answer]] of own) {
    const [theirs, other] = found[name] ?? [];
    const apart = other?.some(
      (value, i) => !(Math.abs(value - answer[i]) <= AGREE * Math.abs(value)),
    );
    if (apart) {
      differ++;
      console.error(`${name}: the answers differ: ${answer.join(', ')} and ${other.join(', ')}`);
    }
    const cells = theirs === undefined ? ['', ''] : [theirs.toFixed(1), (took / theirs).toFixed(2)];
    console.log(`| ${name} | ${took.toFixed(1)} | ${cells.join(' | ')} |`);
  }
  wholeProcesses();
  console.log(
    `\nLargest memory of this run: ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MiB`,
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
if (differ > 0) process.exit(1);
