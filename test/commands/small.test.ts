/** The parts that all commands share, each by itself. */
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  realpathSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { complain } from '../../src/commands/complain.js';
import { commandLine, typedNumber, verb } from '../../src/commands/options.js';
import { checkOutputFolder, kindOf } from '../../src/commands/outputFolder.js';
import { pathBetween, realPath } from '../../src/commands/paths.js';
import { progressOn } from '../../src/commands/progress.js';
import { demoStudy, ROOT, usualOutputFolder } from '../../src/commands/project.js';
import { isChanged, isOurs, sealed, sealedFiles } from '../../src/commands/seal.js';
import { MeterpairError } from '../../src/error.js';
import { factorsFile } from '../../src/factors/factorsFile.js';
import { entry, madeFactors } from '../madeFactors.js';
import { errorOf } from '../record/support.js';
import { runCommand } from './run.js';

const scratch = () => realpathSync(mkdtempSync(join(tmpdir(), 'meterpair-small-')));
const failed = async (promise: Promise<unknown>) =>
  promise.then(
    () => 'nothing',
    (error: unknown) => (error instanceof MeterpairError ? error.message : 'another error'),
  );

describe('paths', () => {
  test('from a folder to another, with slashes; to itself it is a dot', () => {
    const at = scratch();
    mkdirSync(join(at, 'a/b'), { recursive: true });
    expect(pathBetween(join(at, 'a'), join(at, 'a/b/c.json'))).toBe('b/c.json');
    expect(pathBetween(join(at, 'a/b'), join(at, 'x'))).toBe('../../x');
    expect(pathBetween(at, at)).toBe('.');
  });

  test('links are resolved as far as the path exists', () => {
    const at = scratch();
    mkdirSync(join(at, 'real'));
    symlinkSync(join(at, 'real'), join(at, 'link'));
    expect(realPath(join(at, 'link/new/file'))).toBe(join(at, 'real/new/file'));
    expect(realPath('/')).toBe('/');
    expect(pathBetween(join(at, 'real'), join(at, 'link/x'))).toBe('x');
  });

  test('the package is where its package.json is, and its first study comes first', async () => {
    expect(usualOutputFolder('/elsewhere')).toBe(join(ROOT, 'report'));
    expect(await demoStudy()).toBe(join(ROOT, 'data-demo/1-workshop-evening'));
  });
});

describe('progress', () => {
  const said = (columns: number | null) => {
    let text = '';
    const { onCell, end } = progressOn({
      columns,
      out: (more) => {
        text += more;
      },
    });
    onCell({ cell: 3, cells: 12, heading: 'Step 1: the runs' });
    end();
    return text;
  };

  test.each([
    [null, '   3/12  Step 1: the runs\n'],
    [80, '\r\u001b[K   3/12  Step 1: the runs\r\u001b[K'],
    // One letter less than the terminal is wide, and never less than 20
    [26, `${'\r\u001b[K   3/12  Step 1: the runs'.slice(0, 4 + 25)}\r\u001b[K`],
    [24, '\r\u001b[K   3/12  Step 1: the ru\r\u001b[K'],
    [5, '\r\u001b[K   3/12  Step 1: the\r\u001b[K'],
  ])('a terminal of %s columns', (columns, text) => {
    expect(said(columns)).toBe(text);
  });
});

describe('what is typed', () => {
  const TAKES = {
    options: {
      out: { short: 'o', value: 'DIR' },
      earlier: { value: 'FILE', many: true },
      'no-notebook': {},
    },
    places: ['FOLDER'],
  } as const;
  const of = (...args: string[]) => commandLine(args, TAKES);

  test('nothing', () => {
    expect(of()).toEqual({
      places: [],
      options: { out: null, earlier: [], 'no-notebook': false },
      help: false,
    });
  });

  test('everything, in any order; help excuses too many names', () => {
    expect(of('--earlier', 'a', 'mine', '-o', 'x', '--no-notebook', '--earlier=b')).toEqual({
      places: ['mine'],
      options: { out: 'x', earlier: ['a', 'b'], 'no-notebook': true },
      help: false,
    });
    expect(of('a', 'b', '-h')).toMatchObject({ places: ['a', 'b'], help: true });
    expect(of('--out', '-3,5').options.out).toBe('-3,5');
    expect(of('--out=-x').options.out).toBe('-x');
  });

  test.each([
    [['--no-notebook=1'], '--no-notebook takes no value.', '1', '--no-notebook'],
    [['--out'], '--out needs a value.', 'nothing', '--out DIR'],
    [['--out='], '--out needs a value.', 'nothing', '--out DIR'],
    [['--out', '--earlier'], '--out needs a value.', '--earlier', '--out DIR'],
    [['--out', 'a', '-o', 'b'], '--out stands twice.', 'a and b', '--out once'],
    [
      ['-q'],
      'There is no such option.',
      '-q',
      '--out DIR, --earlier FILE, --no-notebook or --help',
    ],
    [
      ['a', 'b'],
      'One FOLDER at a time.',
      '"a" and "b"',
      'FOLDER; quotes around a name with a space in it',
    ],
    [[''], 'FOLDER is empty.', '""', 'FOLDER'],
    [['a', ''], 'A name is empty.', '""', 'FOLDER'],
  ])('%j', (args, message, found, expected) => {
    const error = errorOf(() => of(...args));
    expect([error.code, error.found, error.expected]).toEqual(['command-line', found, expected]);
    expect(error.message).toContain(message);
  });

  test('of two places', () => {
    const two = { options: {}, places: ['A', 'B'] } as const;
    expect(commandLine(['x', 'y'], two).places).toEqual(['x', 'y']);
    const error = errorOf(() => commandLine(['x', 'y', 'z'], two));
    expect(error.message).toContain('There are too many names.');
    expect(error.expected).toBe('A B; quotes around a name with a space in it');
  });

  test('a number, with point or comma', () => {
    expect(['4.9', '4,9', '-3', '1e3'].map((text) => typedNumber('--nm', text))).toEqual([
      4.9, 4.9, -3, 1000,
    ]);
    expect(errorOf(() => typedNumber('--nm', 'red')).message).toContain('--nm: ');
    expect(errorOf(() => typedNumber('--nm', '1.234,5')).code).toBe('command-line');
    // Three digits behind a mark: one thousand, or one and a bit.
    expect(typedNumber('--nm', '1.234')).toBe(1.234);
    expect(typedNumber('--nm', '1,234')).toBe(1.234);
  });

  test('help is printed and nothing else is done', async () => {
    let told = '';
    const io = {
      from: '/',
      out: (text: string) => {
        told += text;
      },
      err: () => undefined,
      columns: null,
      onStop: () => () => undefined,
    };
    const one = verb({ ...TAKES, help: 'How.\n', run: async ({ places }) => places.length + 40 });
    expect([await one(['-h'], io), told]).toEqual([0, 'How.\n']);
    expect([await one(['x'], io), told]).toEqual([41, 'How.\n']);
  });

  test.each([
    ['0', 'no percentage'],
    ['100', 'no percentage'],
    ['x', 'no percentage'],
    ['-4', 'no percentage'],
  ])('measure --wanted %s', async (wanted, told) => {
    const { code, err } = await runCommand(scratch(), ['measure', '.', '--wanted', wanted]);
    expect([code, err.includes(told)]).toEqual([2, true]);
  });
});

test.each([
  [['.', '--may-lack', '100'], '--may-lack is a part, in percent.'],
  [['.', '--within', '250'], '--within is a part, in percent.'],
  [['.', '--may-lack', '0'], '--may-lack needs a number above 0.'],
  [['.', '--over', '-1'], '--over needs a number above 0.'],
  [['.', '--over', 'long'], '--over: '],
  [[], 'Which study?'],
])('settle %j', async (args, told) => {
  const { code, err, out } = await runCommand(scratch(), ['settle', ...args]);
  expect([code, err.includes(told), out]).toEqual([2, true, '']);
});

test('whose fault it is', () => {
  const error = (code: 'command-line' | 'no-convergence' | 'notebook-failed') =>
    new MeterpairError({ code, message: 'A\u001b[31m.' });
  expect(complain(error('command-line'))).toMatchObject({ code: 2 });
  expect(complain(error('command-line')).text).not.toContain('\u001b');
  expect(complain(error('no-convergence')).code).toBe(1);
  expect(complain(error('notebook-failed')).text).toMatch(/^The command stopped\. /);
  expect(complain(new Error('two\nlines'))).toEqual({
    text: 'The command stopped. two\nlines\n',
    code: 1,
  });
  expect(complain('odd')).toEqual({ text: 'The command stopped. odd\n', code: 1 });
});

describe('a folder for outputs', () => {
  const NAMES = ['result.json', 'report.html'];

  test('what stands under a path', async () => {
    const at = scratch();
    writeFileSync(join(at, 'file'), 'x');
    const kinds = [at, join(at, 'file'), join(at, 'none'), join(at, 'file/under')].map(kindOf);
    expect(await Promise.all(kinds)).toEqual(['folder', 'other', 'nothing', 'nothing']);
    // A link in a circle is something.
    symlinkSync(join(at, 'circle'), join(at, 'circle'));
    expect(await kindOf(join(at, 'circle'))).toBe('other');
  });

  test('that is there, empty, or still to be made, has nothing in the way', async () => {
    const at = scratch();
    expect(await checkOutputFolder(at, NAMES)).toEqual([]);
    expect(await checkOutputFolder(join(at, 'new/deep'), NAMES)).toEqual([]);
  });

  test.each([
    ['is a file', 'file', 'The output folder cannot be used.'],
    ['would lie under a file', 'file/out', 'The output folder cannot be made.'],
    ['would lie deep under a file', 'file/a/b', 'The output folder cannot be made.'],
    ['has a folder for a file', 'taken', 'An output file cannot be written.'],
    ['has a file of somebody', 'theirs', 'not of our making'],
  ])('that %s', async (_, name, told) => {
    const at = scratch();
    writeFileSync(join(at, 'file'), 'x');
    mkdirSync(join(at, 'taken/result.json'), { recursive: true });
    mkdirSync(join(at, 'theirs'));
    writeFileSync(join(at, 'theirs/report.html'), '<p>mine</p>');
    expect(await failed(checkOutputFolder(join(at, name), NAMES))).toContain(told);
  });

  test('what an earlier run left is listed, and so is what would be written again', async () => {
    const at = scratch();
    const ours = '{"schema":"meterpair.result/2"}';
    writeFileSync(join(at, 'result.json'), ours);
    writeFileSync(join(at, 'report.html'), '<p>as it comes</p>');
    const files = { 'report.html': Buffer.from('<p>as it comes</p>') };
    const found = await checkOutputFolder(at, NAMES, files);
    expect(found.map(({ name, path, content }) => [name, path, String(content)])).toEqual([
      ['result.json', join(at, 'result.json'), ours],
      ['report.html', join(at, 'report.html'), '<p>as it comes</p>'],
    ]);
    expect(Math.abs(found[0]!.modified.getTime() - Date.now())).toBeLessThan(60_000);
  });

  test('closed to us, where that counts', async () => {
    const at = scratch();
    chmodSync(at, 0o555);
    const told = await failed(checkOutputFolder(at, NAMES));
    chmodSync(at, 0o755);
    // Root may write anywhere.
    expect(told).toContain(process.getuid?.() === 0 ? 'nothing' : 'Writing is not allowed there.');
  });
});

describe('seals', () => {
  test.each([
    ['corrected-0123abcd.csv', 'anything', true],
    ['corrected-0123abc.csv', 'anything', false],
    ['corrected.csv', 'reading_mW,corrected_mW,U_mW,k,low_mW,high_mW,cautions\n', true],
    ['corrected.csv', 'reading_mW;corrected_mW;U_mW;k;low_mW;high_mW;cautions\r\n5;', true],
    ['corrected.csv', 'reading_mW,corrected_mW,U_mW\n', false],
    ['corrected.csv', 'corrected_mW,U_mW,k,low_mW,high_mW,cautions,mine\n', false],
    ['corrected.csv', 'note\ncorrected_mW,U_mW,k,low_mW,high_mW,cautions\n', false],
    ['result.json', '{"schema":"meterpair.result/2"}', true],
    ['result.json', '{"schema":"other/1"}', false],
    ['result.json', '{"schema":1}', false],
    ['result.json', '{"schema":"other/1","by":"meterpair"}', false],
    ['result.json', 'null', false],
    ['result.json', '"meterpair."', false],
    ['result.json', 'no JSON', false],
    ['result.json', '[]', false],
    ['compare.ipynb', '{"metadata":{"meterpair":1}}', true],
    ['compare.ipynb', '{}', false],
    ['report.html', '<p>End of the comparison report.</p>', true],
    ['report.html', '<p>mine</p>', false],
    ['card.svg', '<svg/>', false],
  ])('%s of %j is ours: %s', (name, text, ours) => {
    expect(isOurs(name, Buffer.from(text))).toBe(ours);
    expect(isOurs(name, sealed(name, text))).toBe(ours || /html|svg|ipynb$/.test(name));
  });

  test('a sealed file tells a change; JSON and tables cannot', () => {
    const notebook = '{"cells":[],"metadata":{"kernel":"x"}}';
    const files = sealedFiles({
      'a.html': '<p>à</p>',
      'b.ipynb': notebook,
      'c.json': '{}',
      'd.csv': 'x',
    });
    expect(Object.entries(files).map(([name, bytes]) => isChanged(name, bytes))).toEqual([
      false,
      false,
      false,
      false,
    ]);
    const worked = (name: string, from: string, to: string) =>
      isChanged(name, Buffer.from(files[name]!.toString().replace(from, to)));
    expect(worked('a.html', 'à', 'a')).toBe(true);
    expect(worked('b.ipynb', '"x"', '"y"')).toBe(true);
    expect(worked('c.json', '{}', '[]')).toBe(false);
    expect(isChanged('b.ipynb', Buffer.from(notebook))).toBe(true);
    expect(JSON.parse(files['b.ipynb']!.toString()).metadata).toMatchObject({
      kernel: 'x',
      meterpair: { sha256: expect.stringMatching(/^[0-9a-f]{64}$/) },
    });
    // No notebook: as it is.
    expect(sealed('b.ipynb', 'no JSON').toString()).toBe('no JSON');
    expect(sealed('b.ipynb', '[1]').toString()).toBe('[1]');
  });
});

describe('correct', () => {
  const from = scratch();
  const factors = madeFactors(1, { date: '2026-03-14', factors: [entry(520, 1.1, 0.025)] });
  writeFileSync(join(from, 'factors.json'), factorsFile(factors));
  const table = (rows: string) =>
    writeFileSync(join(from, 'r.csv'), `wavelength_nm,reading_mW\n${rows}`);
  const run = (...args: readonly string[]) =>
    runCommand(from, ['correct', 'factors.json', '--date', '2026-03-20', ...args]);

  test('counts what it corrected, beside the path of the file', async () => {
    table('520,50\n520,none\n520,51\n900,1\n');
    const some = await run('r.csv');
    const whose = 'By the factors of 2026-03-14 for "Unit 1" against "Meter R".\n';
    expect(some.err).toBe(
      `${whose}2 of 4 rows corrected; the others say why in the column cautions.\n`,
    );
    expect(some.out).toMatch(/^wavelength_nm,reading_mW,corrected_mW/);
    table('520,50\n520,51\n');
    const whole = await run('r.csv', '-o', 'made.csv');
    expect([whole.code, whole.err, whole.out]).toEqual([
      0,
      `${whose}2 of 2 rows corrected.\n`,
      `Corrected readings: ${join(from, 'made.csv')}\n`,
    ]);
    table('900,1\n');
    // It can be read, and only not corrected.
    expect((await run('r.csv')).code).toBe(0);
  });

  test('asks for what is missing by its name', async () => {
    for (const [args, told] of [
      [['--reading', '50'], 'At which wavelength?'],
      [['r.csv', '--reading', '50'], 'Either a table or --reading.'],
      [[], 'What is to be corrected?'],
    ] as const) {
      const { code, err } = await run(...args);
      expect([code, err.includes(told)]).toEqual([2, true]);
    }
    expect((await runCommand(from, ['correct'])).err).toContain('Which factors?');
  });

  test('what else is known of a reading reaches the correction', async () => {
    const cautions = async (...more: readonly string[]) =>
      (await run('--reading', '50', '--nm', '520', ...more)).out.split('\n');
    const plain = await cautions();
    expect(plain.join()).toContain('k = ');
    const zeroed = await cautions('--zero', '5');
    expect(zeroed[0]).toContain('(49.5 ± ');
    const set = await cautions('--setting', '600');
    expect(set.length).toBeGreaterThan(plain.length);
    for (const option of ['--zero', '--setting', '--read-at']) {
      const { code, err } = await run('--reading', '50', '--nm', '520', option, 'early');
      expect([code, err.includes(`${option}: `)]).toEqual([2, true]);
    }
  });
});

describe('plan at a terminal', () => {
  const plan = (answers: readonly string[], ...args: readonly string[]) =>
    runCommand(
      scratch(),
      ['plan', 'new', '--most-series', '1', '--most-laps', '8', ...args],
      answers,
    );

  test('asks only for what no option says, and takes spaces for nothing', async () => {
    const { code, asked, out } = await plan(
      ['  Bench head  ', '   ', ' 3 '],
      '--source',
      'green:520',
    );
    expect(code).toBe(0);
    // No source is asked for: one is there.
    expect(asked.some((question) => question.startsWith('One more'))).toBe(false);
    expect(asked.length).toBeGreaterThanOrEqual(3);
    expect(out).toContain('Written to ');
    const bare = await plan([]);
    expect(bare.code).toBe(2);
  });

  test('a wish that means nothing is the fault of who typed it', async () => {
    const { code, err } = await runCommand(scratch(), [
      'plan',
      'new',
      '--source',
      'green:520',
      '--most-laps',
      '2',
    ]);
    expect([code, err.startsWith('The command stopped')]).toEqual([2, false]);
  });
});

test.each([['-v'], ['--version']])('%s is the version alone', async (word) => {
  const { code, out } = await runCommand('/', [word]);
  expect([code, /^\d+\.\d+\.\d+\n$/.test(out)]).toEqual([0, true]);
});

test('a command that is misspelt is refused, with the one it looks like and all there are', async () => {
  const { code, err, out } = await runCommand('/', ['comparre']);
  expect([code, out]).toEqual([2, '']);
  expect(err).toContain('compare');
  expect(err).toContain('plan');
  expect((await runCommand('/', ['toString'])).code).toBe(2);
  const none = await runCommand('/', []);
  expect([none.code, none.out, none.err.includes('VERB')]).toEqual([2, '', true]);
  expect((await runCommand('/', ['help', 'settle'])).out).toContain('npx meterpair settle');
});
