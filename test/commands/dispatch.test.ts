import { expect, test } from 'vitest';
import { complain } from '../../src/commands/complain.js';
import { argumentWrong, MeterpairError } from '../../src/error.js';
import { versions } from '../../src/notebook/versions.js';
import { runCommand } from './run.js';

async function run(...args: string[]) {
  const { code, out, err } = await runCommand('/nowhere', args);
  return { code, out, err };
}

test('--version gives the version of the package, and nothing else', async () => {
  expect(await run('--version')).toEqual({ code: 0, out: `${versions().meterpair}\n`, err: '' });
});

test.each([['help'], ['--help'], ['-h']])('%s names every verb', async (word) => {
  const { code, out, err } = await run(word);
  expect([code, err]).toEqual([0, '']);
  for (const verb of ['compare', 'notebook']) expect(out).toMatch(new RegExp(`^  ${verb} `, 'm'));
});

test('no verb at all is bad use, and says what there is', async () => {
  const { code, out, err } = await run();
  expect([code, out]).toEqual([2, '']);
  expect(err).toContain('compare');
});

test.each([['compare'], ['notebook']])('%s -h shows an example, also as help %s', async (verb) => {
  const asked = await run(verb, '-h');
  expect([asked.code, asked.err]).toEqual([0, '']);
  expect(asked.out).toContain(`npx meterpair ${verb}`);
  for (const line of asked.out.split('\n')) expect(line.length).toBeLessThanOrEqual(96);
  expect(await run('help', verb)).toEqual(asked);
});

test.each([
  [['compar'], 'Did you mean "compare"?'],
  [['constructor'], 'constructor'],
  [['help', 'nothing'], 'nothing'],
  [['compare', 'a', 'b'], '"a" and "b"'],
  [['compare', 'nowhere'], 'no such folder'],
  [['notebook', '9-nothing'], '1-plan'],
  [['notebook', '2', 'nowhere'], 'no such folder'],
  [['notebook', '1-plan', '.', '--out', 'x.ipynb'], 'no study'],
])('%j is bad input, in one line', async (args, named) => {
  const { code, out, err } = await run(...args);
  expect([code, out]).toEqual([2, '']);
  expect(err).toContain(named);
  expect(err.trim().split('\n')).toHaveLength(1);
});

test('an error becomes a message in one place, with its exit code', () => {
  const fault = { code: 'cell-not-a-number', message: 'This is no number.' } as const;
  const error = new MeterpairError({
    ...fault,
    file: 'runs.csv',
    row: 3,
    column: 'candidate_mW',
    found: '\u001b[31mfour',
    expected: 'a number',
    others: [{ ...fault, row: 4 }],
  });
  expect(complain(error)).toEqual({
    code: 2,
    text: 'runs.csv, row 3, column candidate_mW: This is no number. Found: [31mfour. Right would be: a number.\nrow 4: This is no number.\n',
  });
  expect(complain(argumentWrong('A wrong call.')).code).toBe(1);
  expect(complain(new TypeError('x is not a function')).code).toBe(1);
});
