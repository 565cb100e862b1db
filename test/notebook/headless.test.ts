import { writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { describe, expect, test, vi } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { type CellProgress, compileNotebook, runNotebook } from '../../src/notebook/headless.js';
import type { NotebookOutput } from '../../src/notebook/notebookFile.js';
import { tinyNotebook } from './tinyNotebook.js';

// Each notebook starts a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 120_000 });

const cwd = fileURLToPath(new URL('../../notebooks', import.meta.url));

async function outputsOf(code: string): Promise<readonly NotebookOutput[]> {
  const run = await runNotebook({ notebook: tinyNotebook([{ code }]), cwd });
  return run.cells[0]?.outputs ?? [];
}

async function failureOf(promise: Promise<unknown>): Promise<MeterpairError> {
  const error = await promise.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof MeterpairError)) throw new Error(`Not the package's error: ${error}`);
  return error;
}

test('what would steer a terminal is kept as what it is called, and data stay data', async () => {
  const outputs = await outputsOf(
    String.raw`import { display } from 'tslab';
console.log('red \u001b[31m, turned \u202e, marked \u200f, tab \t.');
display.text('bell \u0007');
display.raw('application/json', '{"a":"\\u001b"}');`,
  );
  expect(outputs).toEqual([
    {
      output_type: 'stream',
      name: 'stdout',
      text: ['red \\u001b[31m, turned \\u202e, marked \\u200f, tab \t.\n'],
    },
    { output_type: 'display_data', data: { 'text/plain': ['bell \\u0007'] }, metadata: {} },
    {
      output_type: 'display_data',
      data: { 'application/json': '{"a":"\\u001b"}' },
      metadata: {},
    },
  ]);
});

describe('a notebook that runs through', () => {
  test('keeps what each cell writes, by stream and in order', async () => {
    const outputs = await outputsOf(
      "console.log('one'); console.log('two'); console.error('three'); console.log('four');",
    );
    // nbformat 4.5, "stream output": name and text, text as a list of lines.
    expect(outputs).toEqual([
      { output_type: 'stream', name: 'stdout', text: ['one\n', 'two\n'] },
      { output_type: 'stream', name: 'stderr', text: ['three\n'] },
      { output_type: 'stream', name: 'stdout', text: ['four\n'] },
    ]);
  });

  test('keeps what is displayed, and puts an update in the place of what it updates', async () => {
    const outputs = await outputsOf(
      "import { display, newDisplay } from 'tslab';\nconst d = newDisplay();\nd.html('<p>before</p>');\ndisplay.text('between');\nd.html('<p>after</p>');",
    );
    expect(outputs).toEqual([
      { output_type: 'display_data', data: { 'text/html': ['<p>after</p>'] }, metadata: {} },
      { output_type: 'display_data', data: { 'text/plain': ['between'] }, metadata: {} },
    ]);
  });

  test('carries values from cell to cell and waits for promises', async () => {
    const notebook = tinyNotebook([
      { code: 'const later = await new Promise<number>((r) => setTimeout(() => r(7), 20));' },
      'Between the two.',
      { code: 'console.log(later * 6);' },
    ]);
    const run = await runNotebook({ notebook, cwd });
    expect(run.cells.map((cell) => cell.cell_type)).toEqual(['code', 'markdown', 'code']);
    expect(run.cells[2]?.outputs).toEqual([
      { output_type: 'stream', name: 'stdout', text: ['42\n'] },
    ]);
  });

  test('is a notebook of format 4.5 with counts, ids and the kernel in its metadata', async () => {
    const run = await runNotebook({
      notebook: tinyNotebook(['# Title', { code: 'const a = 1;' }, { code: 'const b = 2;' }]),
      cwd,
    });
    expect([run.nbformat, run.nbformat_minor]).toEqual([4, 5]);
    expect(run.cells.map((cell) => cell.execution_count)).toEqual([undefined, 1, 2]);
    // nbformat 4.5, "Cell ids": 1 to 64 characters of this alphabet, each id once.
    expect(run.cells.every((cell) => /^[a-zA-Z0-9-_]{1,64}$/.test(cell.id))).toBe(true);
    expect(new Set(run.cells.map((cell) => cell.id)).size).toBe(3);
    expect(run.metadata.kernelspec).toEqual({
      display_name: 'TypeScript',
      language: 'typescript',
      name: 'tslab',
    });
    expect(run.metadata.language_info).toMatchObject({ name: 'typescript', file_extension: '.ts' });
  });

  test('reports each code cell with the heading above it', async () => {
    const seen: CellProgress[] = [];
    await runNotebook({
      notebook: tinyNotebook(['# First', { code: '1;' }, '## Second', 'prose', { code: '2;' }]),
      cwd,
      onCell: (progress) => seen.push(progress),
    });
    expect(seen).toEqual([
      { cell: 1, cells: 2, heading: 'First' },
      { cell: 2, cells: 2, heading: 'Second' },
    ]);
  });

  test('finds the package, and embeds the plotting bundle with the first figure only', async () => {
    const figure = "{ data: [], layout: {}, title: 'x', alt: 'y' }";
    const notebook = tinyNotebook([
      { code: `import { show, showTable } from 'meterpair/notebook';\nshow(${figure});` },
      { code: `show({ ...${figure}, title: 'second' });` },
      { code: "showTable([{ name: '<script>', value: 1 }]);" },
    ]);
    for (const time of ['first', 'second']) {
      const run = await runNotebook({ notebook, cwd });
      const html = run.cells.map((cell) => JSON.stringify(cell.outputs));
      expect(html[0]?.length, `${time} run, first figure`).toBeGreaterThan(500_000);
      expect(html[1]?.length, `${time} run, second figure`).toBeLessThan(5_000);
      expect(html[2]).toContain('&lt;script&gt;');
    }
  });

  test('gives the working directory, the console and the streams back', async () => {
    const before = [process.cwd(), globalThis.console, process.stdout.write, process.stderr.write];
    await outputsOf("console.log('x');");
    expect([process.cwd(), globalThis.console, process.stdout.write, process.stderr.write]).toEqual(
      before,
    );
  });
});

describe('the cell with a tag', () => {
  const code =
    "// where the user's study lies\nconst folder = '../data-demo/demo';\nconsole.log(folder);";

  test('runs with one text and is kept with another', async () => {
    const run = await runNotebook({
      notebook: tinyNotebook([{ code, tags: ['study-folder'] }]),
      cwd,
      parameters: { 'study-folder': { run: '/somewhere/else', saved: '../study' } },
    });
    const source = [run.cells[0]?.source].flat().join('');
    expect(source).toContain('const folder = "../study";');
    expect(source).toContain("// where the user's study lies");
    expect(run.cells[0]?.outputs).toEqual([
      { output_type: 'stream', name: 'stdout', text: ['/somewhere/else\n'] },
    ]);
  });

  test('takes any name of a folder as it is', async () => {
    // biome-ignore lint/suspicious/noTemplateCurlyInString: a folder may be called that
    const names = ["it's here", 'a "b" c', 'back\\slash', '$& $1 `x` ${y}', 'ends with \\'];
    const run = await runNotebook({
      notebook: tinyNotebook(
        names.map((_, n) => ({
          code: code.replace('folder', `folder${n}`).replace('(folder', `(folder${n}`),
          tags: [`tag-${n}`],
        })),
      ),
      cwd,
      parameters: Object.fromEntries(
        names.map((name, n) => [`tag-${n}`, { run: name, saved: name }]),
      ),
    });
    expect(run.cells.map((cell) => cell.outputs)).toEqual(
      names.map((name) => [{ output_type: 'stream', name: 'stdout', text: [`${name}\n`] }]),
    );
  });

  test('may hold null, which a text then replaces', async () => {
    const cell = 'const earlier: string | null = null;\nconsole.log(earlier);';
    const tagged = tinyNotebook([{ code: cell, tags: ['earlier-factors'] }]);
    const written = (run: Awaited<ReturnType<typeof runNotebook>>) =>
      run.cells[0]?.outputs?.flatMap((output) =>
        output.output_type === 'stream' ? output.text : [],
      );
    const without = await runNotebook({ notebook: tagged, cwd });
    expect(written(without)).toEqual(['null\n']);
    expect([without.cells[0]?.source].flat().join('')).toBe(cell);
    const given = await runNotebook({
      notebook: tagged,
      cwd,
      parameters: { 'earlier-factors': { run: '/then.json', saved: '../then.json' } },
    });
    expect(written(given)).toEqual(['/then.json\n']);
    expect([given.cells[0]?.source].flat().join('')).toContain(
      'const earlier: string | null = "../then.json";',
    );
  });

  test('may be a list of texts, which takes the place of a list', async () => {
    const cell = 'const files: string[] = [\'a, b\', "c]"];\nconsole.log(JSON.stringify(files));';
    const list = ["it's", 'a "b"]', ', $& '];
    const run = await runNotebook({
      notebook: tinyNotebook([
        { code: cell, tags: ['list'] },
        { code: 'const more: string[] = [];\nconsole.log(more.length);', tags: ['empty'] },
      ]),
      cwd,
      parameters: { list: { run: list, saved: ['../one'] }, empty: { run: list, saved: [] } },
    });
    const written = run.cells.map((one) =>
      one.outputs?.flatMap((output) => (output.output_type === 'stream' ? output.text : [])),
    );
    expect(written).toEqual([[`${JSON.stringify(list)}\n`], ['3\n']]);
    expect(run.cells.map((one) => [one.source].flat()[0])).toEqual([
      'const files: string[] = ["../one"];\n',
      'const more: string[] = [];\n',
    ]);
  });

  test('asks nothing of the compiler, whatever its text, where the notebook was compiled before', async () => {
    const compiler = createRequire(import.meta.url).resolve('tslab/dist/converter.js');
    const notebook = tinyNotebook([
      { code, tags: ['study-folder'] },
      { code: 'console.log(folder.length);' },
    ]);
    const lengthOf = async (run: string) => {
      const { cells } = await runNotebook({
        notebook,
        cwd,
        parameters: { 'study-folder': { run, saved: run } },
      });
      return cells[1]?.outputs;
    };
    await compileNotebook(notebook, cwd, ['study-folder']);
    delete createRequire(import.meta.url).cache[compiler];
    expect(await lengthOf('/another')).toMatchObject([{ text: ['8\n'] }]);
    expect(createRequire(import.meta.url).cache[compiler]).toBeUndefined();
  });

  test('must exist', async () => {
    const error = await failureOf(
      runNotebook({
        notebook: tinyNotebook([{ code }]),
        cwd,
        parameters: { 'study-folder': { run: 'a', saved: 'b' } },
      }),
    );
    expect(error.code).toBe('notebook-failed');
    expect(error.message).toContain('study-folder');
  });
});

describe('a notebook that fails', () => {
  test('names the cell, quotes it, and says what was thrown, without a stack', async () => {
    const error = await failureOf(
      runNotebook({
        notebook: tinyNotebook([
          { code: 'const a = 1;' },
          '## The bad part',
          { code: "const b = a + 1;\nthrow new RangeError('too far');" },
        ]),
        cwd,
      }),
    );
    expect(error.code).toBe('notebook-failed');
    expect(error.message).toContain('tiny.ipynb');
    expect(error.message).toContain('Cell 2 (The bad part)');
    expect(error.message).toContain('RangeError: too far');
    expect(error.message).toContain("    throw new RangeError('too far');");
    expect(error.message).not.toMatch(/node_modules|\n\s+at /);
    expect(error.cause).toBeInstanceOf(RangeError);
  });

  test('fails on a wrong type before the cell runs', async () => {
    const error = await failureOf(
      runNotebook({ notebook: tinyNotebook([{ code: "const n: number = 'text';" }]), cwd }),
    );
    expect(error.message).toContain("Type 'string' is not assignable to type 'number'");
  });

  test('gives the working directory and the streams back all the same', async () => {
    const before = [process.cwd(), process.stdout.write];
    await failureOf(runNotebook({ notebook: tinyNotebook([{ code: 'throw 1;' }]), cwd }));
    expect([process.cwd(), process.stdout.write]).toEqual(before);
  });

  test.each([
    ['no JSON', '{'],
    ['another format', '{"nbformat": 3, "worksheets": []}'],
    ['not an object', '[]'],
  ])('says so when the file is no notebook: %s', async (_what, content) => {
    const path = tinyNotebook([]);
    writeFileSync(path, content);
    const error = await failureOf(runNotebook({ notebook: path, cwd }));
    expect(error.code).toBe('file-unreadable');
    expect(error.message).toContain('tiny.ipynb');
  });
});
