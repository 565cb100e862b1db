// npm run mutate -- ROOM [FILE ...] [--tests GLOB ...] [--sample N [--seed K]] [--concurrency N] [--write]
// npm run mutate -- ROOM [--seed K] --equal N
// Puts faults into a room (src/ROOM), or into these files of it, one by one, and lists those that no
// test of the room sees; tmp/mutation.json holds them all. --tests: further tests that look at the room.
// --sample: N faults drawn at random from the files that docs/mutation.md does not have whole.
// --write keeps the score in docs/mutation.md, which docs/validation.md reads. --equal says there how
// many of a sample's unseen faults turned out to change nothing.
//
// The tests are chosen by the environment and not by the runner's own --testFiles: with that, a fault in
// what runs while a module loads would never be switched on, and pass for one that nobody sees.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { pageOf, rowsOf } from './mutation-page.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const PAGE = join(root, 'docs/mutation.md');
const read = (path) => readFileSync(join(root, path), 'utf8');

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    tests: { type: 'string', multiple: true, default: [] },
    sample: { type: 'string' },
    seed: { type: 'string', default: '1' },
    equal: { type: 'string' },
    concurrency: { type: 'string', default: '2' },
    write: { type: 'boolean', default: false },
  },
});
const [room, ...files] = positionals;
if (room === undefined || !existsSync(join(root, 'src', room))) {
  console.error(`Which room? src/${room ?? '…'} is none.`);
  process.exit(2);
}
const rowsNow = () => rowsOf(readFileSync(PAGE, 'utf8'));
const keep = (row) => {
  const others = rowsNow().filter(({ what, seed }) => what !== row.what || seed !== row.seed);
  writeFileSync(PAGE, pageOf([...others, row]));
};
const what = [room, ...files].join(' ');
if (values.equal !== undefined) {
  const row = rowsNow().find((one) => one.what === what && one.seed === values.seed);
  if (row === undefined) throw new Error(`docs/mutation.md has no sample of ${what}`);
  keep({ ...row, equal: values.equal });
  process.exit();
}

const sampled = values.sample !== undefined;
const inRoom = (file) => `src/${room}/${file}`;
const whole = sampled
  ? rowsNow()
      .map(({ what }) => what.split(' '))
      .filter(([one]) => one === room)
  : [];
const mutated = [
  ...(files.length === 0 ? ['**/*.ts'] : files).map(inRoom),
  ...JSON.parse(read('stryker.config.json')).mutate.filter((glob) => glob.startsWith('!')),
  ...whole.flatMap(([, ...done]) => done.map((file) => `!${inRoom(file)}`)),
];
const tests = [`test/${room}/**/*.test.ts`, ...values.tests];
// Or a run that fell over would hand on the faults of the one before.
rmSync(join(root, 'tmp/mutation.json'), { force: true });
const asked = ['--mutate', mutated.join(','), '--concurrency', values.concurrency];
spawnSync('npx', ['stryker', 'run', ...asked, ...(sampled ? ['--checkers', 'sample'] : [])], {
  cwd: root,
  stdio: 'inherit',
  env: {
    ...process.env,
    MUTATE_TESTS: tests.join(','),
    MUTATE_SAMPLE: values.sample ?? '',
    MUTATE_SEED: values.seed,
  },
});
const found = Object.values(JSON.parse(read('tmp/mutation.json')).files).flatMap((file) =>
  file.mutants.map(({ status }) => status).filter((status) => status !== 'Ignored'),
);
const count = (...kinds) => found.filter((status) => kinds.includes(status)).length;
const unseen = count('Survived', 'NoCoverage');
const seen = found.length - unseen - count('CompileError');
const row = {
  what,
  tests: values.tests.map((one) => `\`${one}\``).join(', ') || '–',
  seed: sampled ? values.seed : '–',
  faults: found.length,
  seen,
  unseen,
  equal: '–',
};
console.log(row);
if (values.write) keep(row);
process.exitCode = seen >= 0.85 * (seen + unseen) ? 0 : 1;
