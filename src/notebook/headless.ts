import { Console } from 'node:console';
import { basename } from 'node:path';
import { MeterpairError } from '../error.js';
import { cellCompiler } from './cellCompiler.js';
import { cellRunner } from './cellRunner.js';
import { collectOutputs, type KernelMessage } from './collectOutputs.js';
import {
  cellTags,
  type Notebook,
  type NotebookCell,
  readNotebook,
  sourceLines,
  sourceText,
} from './notebookFile.js';
import { notebookState } from './notebookState.js';

/** A text, or a list of texts. */
export type ParameterValue = string | readonly string[];

/** What stands in a tagged cell: while it runs, and in the notebook that is kept. */
export interface NotebookParameter {
  readonly run: ParameterValue;
  readonly saved: ParameterValue;
}

export interface CellProgress {
  /** 1-based place among the code cells. */
  readonly cell: number;
  readonly cells: number;
  /** The nearest heading above the cell. */
  readonly heading: string;
}

export interface RunNotebookOptions {
  /** Path of the notebook file. */
  readonly notebook: string;
  /** Name by which messages call the notebook; default: its file name. */
  readonly outputName?: string;
  /** Folder from which cells resolve packages and relative paths. */
  readonly cwd: string;
  /**
   * By tag: what takes the place of the first text, list of texts or `null` that is assigned in the
   * cell with that tag.
   */
  readonly parameters?: Readonly<Record<string, NotebookParameter>>;
  /** Called before each code cell runs. */
  readonly onCell?: (progress: CellProgress) => void;
}

/** As the kernel describes itself to Jupyter. */
const KERNEL = {
  kernelspec: { display_name: 'TypeScript', language: 'typescript', name: 'tslab' },
  language_info: {
    name: 'typescript',
    version: '3.7.2',
    mimetype: 'text/typescript',
    file_extension: '.ts',
    codemirror_mode: { mode: 'typescript', name: 'javascript', typescript: true },
  },
};

/**
 * Runs a notebook with the kernel's own compiler, without Jupyter and without a server.
 *
 * While it runs, the process's working directory and its standard output belong to the notebook;
 * both are given back, so run one notebook at a time.
 *
 * @returns the notebook with outputs and execution counts, as nbformat 4.5
 * @throws notebook-failed naming and quoting the cell that failed (`cause`: what it threw), or naming a parameter that has
 *   no cell; file-unreadable
 */
export async function runNotebook(options: RunNotebookOptions): Promise<Notebook> {
  const source = await readNotebook(options.notebook);
  const name = options.outputName ?? basename(options.notebook);
  const given = Object.entries(options.parameters ?? {});
  for (const [tag] of given) {
    if (source.cells.some((cell) => cellTags(cell).includes(tag))) continue;
    throw failed(name, `No cell carries the tag ${JSON.stringify(tag)}.`);
  }
  const parameterOf = (cell: NotebookCell): NotebookParameter | undefined =>
    given.find(([tag]) => cellTags(cell).includes(tag))?.[1];

  const kernel = startKernel(options.cwd);
  try {
    const total = source.cells.filter((cell) => cell.cell_type === 'code').length;
    const cells: NotebookCell[] = [];
    let heading = name;
    let count = 0;
    for (const cell of source.cells) {
      if (cell.cell_type === 'markdown') heading = headingOf(sourceText(cell)) ?? heading;
      if (cell.cell_type !== 'code') {
        cells.push(cell);
        continue;
      }
      count += 1;
      options.onCell?.({ cell: count, cells: total, heading });
      const parameter = parameterOf(cell);
      const { ok, thrown, outputs, errorText } = await kernel.execute(
        sourceText(cell),
        parameter?.run,
      );
      if (!ok) {
        const code = quote(fill(sourceText(cell), parameter?.run));
        const error = failed(name, `Cell ${count} (${heading}) failed: ${errorText}\n${code}`);
        throw Object.assign(error, { cause: thrown });
      }
      const saved = sourceLines(fill(sourceText(cell), parameter?.saved));
      cells.push({ ...cell, source: saved, execution_count: count, outputs });
    }
    const metadata = { ...source.metadata, ...KERNEL };
    return { nbformat: 4, nbformat_minor: 5, metadata, cells };
  } finally {
    kernel.close();
  }
}

/**
 * Compiles the cells of a notebook without running them, so that its next run finds them kept.
 *
 * @param parameters tags of the cells that are given a text when the notebook is run
 */
export async function compileNotebook(
  notebook: string,
  cwd: string,
  parameters: readonly string[],
): Promise<void> {
  const { cells } = await readNotebook(notebook);
  const before = process.cwd();
  process.chdir(cwd);
  const compiler = cellCompiler(process.cwd());
  try {
    let declared = '';
    for (const cell of cells.filter(({ cell_type }) => cell_type === 'code')) {
      const isGiven = cellTags(cell).some((tag) => parameters.includes(tag));
      const code = fill(sourceText(cell), isGiven ? STAND_IN : undefined);
      declared = compiler.convert(declared, code).declOutput ?? '';
    }
  } finally {
    compiler.close();
    process.chdir(before);
  }
}

interface RunningKernel {
  readonly execute: (
    code: string,
    value: ParameterValue | undefined,
  ) => Promise<
    ReturnType<typeof collectOutputs> & { readonly ok: boolean; readonly thrown: unknown }
  >;
  readonly close: () => void;
}

function startKernel(cwd: string): RunningKernel {
  const before = { cwd: process.cwd(), console: globalThis.console };
  const write = { stdout: process.stdout.write, stderr: process.stderr.write };
  process.chdir(cwd);
  const compiler = cellCompiler(process.cwd());
  // Colour codes would depend on the terminal the run was started from.
  const plain = new Console({ stdout: process.stdout, stderr: process.stderr, colorMode: false });
  const seen: { thrown: unknown } = { thrown: undefined };
  const runner = cellRunner(cwd, compiler.convert, plain, (error) => {
    seen.thrown = error;
  });
  notebookState().bundleIn = null;
  const giveBack = () => {
    process.stdout.write = write.stdout;
    process.stderr.write = write.stderr;
    globalThis.console = before.console;
    notebookState().write = null;
  };
  return {
    execute: async (source, value) => {
      const messages: KernelMessage[] = [];
      process.stdout.write = streamInto(messages, 'stdout');
      process.stderr.write = streamInto(messages, 'stderr');
      globalThis.console = plain;
      try {
        const ok = await runner.execute(
          fill(source, standIn(value)),
          (display, update) => messages.push({ display, update }),
          (compiled) => putIn(compiled, value),
        );
        return { ok, thrown: seen.thrown, ...collectOutputs(messages) };
      } finally {
        giveBack();
      }
    },
    close: () => {
      giveBack();
      compiler.close();
      process.chdir(before.cwd);
    },
  };
}

function streamInto(
  messages: KernelMessage[],
  stream: 'stdout' | 'stderr',
): typeof process.stdout.write {
  return (chunk: string | Uint8Array) => {
    const text = typeof chunk === 'string' ? chunk : Buffer.from(chunk).toString('utf8');
    messages.push({ stream, text });
    return true;
  };
}

/** A quoted text, a list of them, or `null`, that is assigned. */
const ASSIGNED = /=\s*(?:'[^'\n]*'|"[^"\n]*"|null\b|\[(?:'[^'\n]*'|"[^"\n]*"|[\s,])*\])/;

function fill(source: string, value: ParameterValue | undefined): string {
  if (value === undefined) return source;
  const text =
    typeof value === 'string'
      ? JSON.stringify(value)
      : `[${value.map((one) => JSON.stringify(one)).join(', ')}]`;
  return source.replace(ASSIGNED, () => `= ${text}`);
}

/**
 * Stands for the text of a parameter while its cell is compiled, so that all values share what the
 * compiler gave: the declared type of a constant is its text, and the cells after it depend on that.
 */
const STAND_IN = 'meterpair: the text that is given';

function standIn(value: ParameterValue | undefined): ParameterValue | undefined {
  return typeof value === 'object' ? [STAND_IN] : value && STAND_IN;
}

function putIn(compiled: string, value: ParameterValue | undefined): string {
  if (value === undefined) return compiled;
  const texts = [value].flat().map((one) => JSON.stringify(one));
  return compiled.replace(JSON.stringify(STAND_IN), () => texts.join(', '));
}

function headingOf(markdown: string): string | null {
  return /^#{1,6}\s+(.+?)\s*$/m.exec(markdown)?.[1] ?? null;
}

function quote(code: string): string {
  return code
    .trimEnd()
    .split('\n')
    .map((line) => `    ${line}`)
    .join('\n');
}

function failed(file: string, message: string): MeterpairError {
  return new MeterpairError({ code: 'notebook-failed', file, message });
}
