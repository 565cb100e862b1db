// npm run mutate -- ROOM [FILE ...] [--tests GLOB ...] [--write]
// Puts faults into a room (src/ROOM), or into these files of it, one by one, and lists those that no
// test of the room sees; tmp/mutation.json holds them all. --tests: further tests that look at the room.
// --write keeps the score in docs/mutation.md, which docs/validation.md reads.
//
// The tests are chosen by the environment and not by the runner's own --testFiles: with that, a fault in
// what runs while a module loads would never be switched on, and pass for one that nobody sees.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const PAGE = join(root, 'docs/mutation.md');
const HEAD = `# Faults put in on purpose

\`npm run mutate -- ROOM --write\` changes a room in one place after the other (a sign, a comparison, a condition, a value that is left out) and runs its tests each time. A fault that no test sees is read: it gets a test, or it changes nothing that anybody could see. Texts are left alone. Wanted are 85 % and more.

| what | tests beside its own | faults | seen | not seen | seen of all |
|---|---|---|---|---|---|
`;

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    tests: { type: 'string', multiple: true, default: [] },
    write: { type: 'boolean', default: false },
  },
});
const [room, ...files] = positionals;
if (room === undefined || !existsSync(join(root, 'src', room))) {
  console.error(`Which room? src/${room ?? '…'} is none.`);
  process.exit(2);
}
const mutated =
  files.length === 0 ? [`src/${room}/**/*.ts`] : files.map((one) => `src/${room}/${one}`);
const tests = [`test/${room}/**/*.test.ts`, ...values.tests];
spawnSync('npx', ['stryker', 'run', '--mutate', mutated.join(',')], {
  cwd: root,
  stdio: 'inherit',
  env: { ...process.env, MUTATE_TESTS: tests.join(',') },
});
const found = Object.values(JSON.parse(readFileSync(join(root, 'tmp/mutation.json'), 'utf8')).files)
  .flatMap((file) => file.mutants)
  .map(({ status }) => status);
const count = (...kinds) => found.filter((one) => kinds.includes(one)).length;
const seen = count('Killed', 'Timeout');
const unseen = count('Survived', 'NoCoverage');
const score = (100 * seen) / (seen + unseen);
const what = `\`${[room, ...files].join(' ')}\``;
const others = values.tests.map((one) => `\`${one}\``).join(', ') || '–';
const row = `| ${what} | ${others} | ${seen + unseen} | ${seen} | ${unseen} | ${score.toFixed(1)} % |`;
console.log(row);
if (values.write) {
  const kept = existsSync(PAGE) ? readFileSync(PAGE, 'utf8').split('\n') : [];
  const rows = kept.filter((line) => line.startsWith('| `') && !line.startsWith(`| ${what} |`));
  writeFileSync(PAGE, `${HEAD}${[...rows, row].sort().join('\n')}\n`);
}
process.exitCode = score >= 85 ? 0 : 1;
