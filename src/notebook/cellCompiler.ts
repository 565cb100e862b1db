import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Converter, ConvertResult } from 'tslab/dist/converter.js';
import type { ConvertCell } from './cellRunner.js';

const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
/** More kept cells than all notebooks have over many changes: then they are made anew. */
const MOST_KEPT = 2000;
/** A cell that imports a file of its own depends on more than its key says. */
const OWN_FILES = /\b(?:from|import|require\()\s*['"]\.{1,2}\//;

export interface CellCompiler {
  readonly convert: ConvertCell;
  readonly close: () => void;
}

/**
 * The kernel's converter, which loads TypeScript and compiles a cell in a tenth of a second or
 * more, with its answers kept on disk. The key is a digest of the cell, of what the cells before it
 * declare, of the folder, of the package's types, of all installed packages (the compiler among
 * them) and of the version of Node: the same key gives the same bytes. What cannot be read back
 * whole is compiled again.
 *
 * @param cwd folder of the notebook, which has to be the working directory while cells are compiled
 * @param kept folder for the answers; `null` keeps none
 */
export function cellCompiler(cwd: string, kept: string | null = keptCells()): CellCompiler {
  let converter: Converter | null = null;
  const compile: ConvertCell = (declared, code) => {
    converter ??= loadConverter();
    try {
      return converter.convert(declared, code);
    } catch {
      // A file that changes on disk meanwhile upsets the compiler's watch; a fresh one knows nothing of it.
      converter.close();
      converter = loadConverter();
      return converter.convert(declared, code);
    }
  };
  const world = kept === null ? '' : digest([cwd, process.versions.node, installed()]);
  return {
    convert: (declared, code) => {
      if (kept === null || OWN_FILES.test(code) || OWN_FILES.test(declared)) {
        return compile(declared, code);
      }
      const file = join(kept, `${digest([world, declared, code])}.json`);
      const known = readKept(file);
      if (known !== null) return known;
      const answer = compile(declared, code);
      if (answer.diagnostics.length === 0 && answer.sideOutputs === undefined) keep(file, answer);
      return answer;
    },
    close: () => converter?.close(),
  };
}

function loadConverter(): Converter {
  const { createConverter } = createRequire(import.meta.url)('tslab/dist/converter.js');
  return createConverter({ isJS: false, isBrowser: false });
}

/** The folder of installed packages that serves the package: its own, or the one it lies in. */
function modulesFolder(): string | null {
  const own = join(ROOT, 'node_modules');
  if (existsSync(own)) return own;
  const parts = ROOT.split(sep);
  const at = parts.lastIndexOf('node_modules');
  return at < 0 ? null : parts.slice(0, at + 1).join(sep);
}

function keptCells(): string | null {
  const modules = modulesFolder();
  return modules === null ? null : join(modules, '.cache', 'meterpair', 'cells');
}

/** A digest of everything that types can come from. */
function installed(): string {
  const dist = join(ROOT, 'dist');
  const types = readdirSync(dist, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.d.ts'))
    .sort()
    .flatMap((name) => [name, readFileSync(join(dist, name), 'utf8')]);
  const list = join(modulesFolder() ?? '', '.package-lock.json');
  const kernel = createRequire(import.meta.url).resolve('tslab/package.json');
  return digest([...types, readFileSync(existsSync(list) ? list : kernel, 'utf8')]);
}

/** A digest that tells ['ab', 'c'] from ['a', 'bc']. */
function digest(parts: readonly string[]): string {
  return createHash('sha256').update(JSON.stringify(parts)).digest('hex');
}

/** The first line is the digest of the rest. */
function readKept(file: string): ConvertResult | null {
  try {
    const [seal, text = ''] = readFileSync(file, 'utf8').split('\n');
    return seal === digest([text]) ? JSON.parse(text) : null;
  } catch {
    return null;
  }
}

/** Beside first, then in place: another run never reads half of it. A folder that is closed to us keeps nothing. */
function keep(file: string, answer: ConvertResult): void {
  const text = JSON.stringify(answer);
  const beside = `${file}.${process.pid}`;
  try {
    const folder = dirname(file);
    mkdirSync(folder, { recursive: true });
    if (readdirSync(folder).length > MOST_KEPT) {
      rmSync(folder, { recursive: true });
      mkdirSync(folder);
    }
    writeFileSync(beside, `${digest([text])}\n${text}`);
    renameSync(beside, file);
  } catch {
    if (existsSync(beside)) rmSync(beside);
  }
}
