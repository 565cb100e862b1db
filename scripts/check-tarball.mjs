// npm run check-tarball     packs the project, installs the tarball in an empty folder and uses it there
//
// What somebody gets who installs the package: at most 40 MB, without kernel, data frames and plotting
// library; both doors, with types under every way of resolving them; README's example; the command.
// Takes packages from npm's cache as far as they are there.
import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const require = createRequire(import.meta.url);
const MOST_MB = 40;
const NOT_WANTED = ['tslab', 'danfojs', 'plotly.js-dist', '@tensorflow/tfjs'];
const project = mkdtempSync(join(tmpdir(), 'meterpair-tarball-'));
process.on('exit', () => rmSync(project, { recursive: true, force: true }));

function run(what, command, args, cwd = project) {
  const began = Date.now();
  const env = { ...process.env, NO_COLOR: '1', INIT_CWD: cwd };
  const done = spawnSync(command, args, { cwd, encoding: 'utf8', env });
  if (done.status !== 0) fail(`${what}\n${done.stdout}${done.stderr}`);
  if (process.argv.includes('--times'))
    console.log(`${((Date.now() - began) / 1000).toFixed(1)} s  ${what}`);
  return done.stdout;
}
function fail(why) {
  console.error(`Not as it should be: ${why}`);
  process.exit(1);
}
const text = (path) => readFileSync(join(root, path), 'utf8');
const write = (name, content) => writeFileSync(join(project, name), content);
const bytes = (path) =>
  statSync(path).isDirectory()
    ? readdirSync(path).reduce((sum, name) => sum + bytes(join(path, name)), 0)
    : statSync(path).size;

run('The build.', process.execPath, ['scripts/build.mjs'], root);
run(
  'npm pack.',
  'npm',
  ['pack', '--silent', '--ignore-scripts', '--pack-destination', project],
  root,
);
const [tarball] = readdirSync(project);
write('package.json', JSON.stringify({ name: 'somebody', private: true, type: 'module' }));
const quiet = ['--no-audit', '--no-fund', '--silent', '--prefer-offline', '--ignore-scripts'];
run('npm install of the tarball.', 'npm', ['install', ...quiet, `./${tarball}`]);

const installed = join(project, 'node_modules');
const unwanted = NOT_WANTED.filter((name) => existsSync(join(installed, name)));
if (unwanted.length > 0) fail(`${unwanted.join(', ')} came with it.`);
const mb = bytes(installed) / 1e6;
if (mb > MOST_MB) fail(`${mb.toFixed(1)} MB are installed, more than ${MOST_MB}.`);

// Types, by the old resolution (tslab's compiler) and by both new ones.
write(
  'use.ts',
  `import { correct, parseFactors, type CorrectedReading } from 'meterpair';
import * as meterpair from 'meterpair';
import { limitsOfAgreement, type LimitsWithFigures } from 'meterpair/methods';
import * as methods from 'meterpair/methods';
export const limits: LimitsWithFigures = limitsOfAgreement([1, 2, 3]);
export const power: CorrectedReading = correct(parseFactors(''), { reading_mW: 1, wavelength_nm: 520 });
// @ts-expect-error: a text is no list, so the types are there and not just any.
limitsOfAgreement('text');
export const doors = [meterpair.analyse, methods.ordinaryLine];
`,
);
const own = join(root, 'node_modules/typescript/bin/tsc');
const old = require.resolve('@tslab/typescript-for-tslab/lib/tsc.js');
for (const [compiler, module, resolution] of [
  [old, 'esnext', 'node10'],
  [own, 'node16', 'node16'],
  [own, 'esnext', 'bundler'],
]) {
  const compilerOptions = {
    noEmit: true,
    strict: true,
    target: 'es2022',
    types: [],
    module,
    moduleResolution: resolution,
  };
  write('tsconfig.json', JSON.stringify({ compilerOptions, files: ['use.ts'] }));
  run(`Types under ${resolution}.`, process.execPath, [compiler, '-p', '.']);
}

// README's study, by the command; then README's example.
const block = (language) =>
  text('README.md').match(new RegExp(`\`\`\`${language}\n(.*?)\`\`\``, 's'))[1];
const study = join(project, 'study');
cpSync(join(installed, 'meterpair/data-demo/1-workshop-evening'), study, { recursive: true });
const meterpair = [
  'node_modules/meterpair/dist/commands/main.js',
  'compare',
  'study',
  '--out',
  'report',
];
const said = run('meterpair compare.', process.execPath, meterpair);
const hint = said.split('\n').find((line) => line.includes('tslab'));
if (!hint?.includes('npm install')) fail(`compare does not say what the notebook needs.\n${said}`);
for (const name of ['report.html', 'result.json', 'factors.json']) {
  if (!existsSync(join(project, 'report', name))) fail(`compare left no ${name}.`);
}
write('example.mjs', block('js'));
const printed = run("README's example.", process.execPath, ['example.mjs']);
if (!/^\d+(\.\d+)? \d/.test(printed)) fail(`README's example prints: ${printed}`);
write(
  'doors.mjs',
  `import * as meterpair from 'meterpair';
import * as methods from 'meterpair/methods';
const { mean } = methods.summariseDifferences([1, 2, 3]);
console.log(JSON.stringify([Object.keys(meterpair).length, Object.keys(methods).length, mean]));
`,
);
const [front, single, mean] = JSON.parse(run('Both doors.', process.execPath, ['doors.mjs']));
if (mean !== 2) fail(`the mean of 1, 2 and 3 is ${mean}.`);
console.log(
  `Tarball: ${mb.toFixed(1)} MB installed in ${readdirSync(installed).length} packages; ${front} names in meterpair, ${single} in meterpair/methods.`,
);
