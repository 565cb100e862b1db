import { createRequire } from 'node:module';
import { join } from 'node:path';
import { runInThisContext } from 'node:vm';
import type { ConvertResult } from 'tslab/dist/converter.js';
import { loadedKernel, notebookState, type WriteDisplay } from './notebookState.js';

/** Turns a cell into JavaScript, given the declarations of the cells before it. */
export type ConvertCell = (declared: string, code: string) => ConvertResult;

export interface CellRunner {
  /**
   * Runs one cell; `false` when it failed, with the reason on the console.
   *
   * @param finish puts into the compiled cell what was not to be compiled
   */
  readonly execute: (
    code: string,
    write: WriteDisplay,
    finish: (compiled: string) => string,
  ) => Promise<boolean>;
}

/**
 * Runs cells one after the other, each with what the earlier ones declared: what the kernel does
 * with the output of its own converter, without loading the compiler behind it.
 *
 * @param cwd folder from which cells resolve packages
 * @param shown where a cell's last value and its errors are printed
 * @param onThrown takes what a cell threw
 */
export function cellRunner(
  cwd: string,
  convert: ConvertCell,
  shown: Console,
  onThrown: (error: unknown) => void = () => undefined,
): CellRunner {
  const declared = { text: '' };
  const locals: Record<string, unknown> = {};
  const exports = exportsInto(locals);
  const require = cellRequire(cwd);
  return {
    execute: async (code, write, finish) => {
      notebookState().write = write;
      tellKernel(write);
      const compiled = convert(declared.text, code);
      if (compiled.diagnostics.length > 0) {
        for (const { start, messageText } of compiled.diagnostics) {
          shown.error('%d:%d - %s', start.line + 1, start.character + 1, messageText);
        }
        return false;
      }
      if (compiled.sideOutputs !== undefined) {
        shown.error('A notebook that imports files of its own runs in Jupyter only.');
        return false;
      }
      try {
        const kind = compiled.hasToplevelAwait ? 'async function' : 'function';
        const body = `(${kind} (exports, require) { ${finish(compiled.output ?? '')}\n})`;
        await runInThisContext(body)(exports, require);
      } catch (error) {
        onThrown(error);
        shown.error(error);
        return false;
      }
      declared.text = compiled.declOutput ?? '';
      const last = compiled.lastExpressionVar;
      if (last !== undefined && locals[last] != null) {
        const value = locals[last];
        delete locals[last];
        shown.log(value);
      }
      return true;
    },
  };
}

/** What cells export becomes plain values, so that a later cell may set them again. */
function exportsInto(locals: Record<string, unknown>): object {
  return new Proxy(locals, {
    defineProperty: (_target, name, { get, value }) => {
      if (typeof name === 'string' && name !== '__esModule') locals[name] = get ? get() : value;
      return true;
    },
  });
}

/** Packages as seen from the notebook's folder; `tslab` is this one, and told where displays go. */
function cellRequire(cwd: string): NodeJS.Require {
  return new Proxy(createRequire(join(cwd, 'cell.js')), {
    apply: (target, self, [id, ...rest]: [string, ...unknown[]]) => {
      if (id !== 'tslab') return Reflect.apply(target, self, [id, ...rest]);
      const { write } = notebookState();
      const kernel: unknown = createRequire(import.meta.url)('tslab');
      if (write !== null) tellKernel(write);
      return kernel;
    },
  });
}

/** The kernel's own display functions write where its last cell did. */
function tellKernel(write: WriteDisplay): void {
  const kernel = loadedKernel();
  if (kernel !== null) kernel.lastWriteDisplayData = write;
}
