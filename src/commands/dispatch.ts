import { versions } from '../notebook/versions.js';
import { suggestion } from '../statistics/didYouMean.js';
import { BAD_INPUT, complain } from './complain.js';
import type { Io, Verb } from './io.js';
import { badUse } from './options.js';

/** Each verb: what it does in a few words, and where it stands. Loaded when it is called, not before. */
const VERBS: Readonly<
  Record<string, { readonly does: string; readonly load: () => Promise<Verb> }>
> = {
  compare: {
    does: 'compares the meters of a study and leaves the report',
    load: async () => (await import('./compare.js')).compare,
  },
  plan: {
    does: 'plans a comparison and writes the study to fill in',
    load: async () => (await import('./plan.js')).plan,
  },
  measure: {
    does: 'the page for the bench: times, asks and writes down each run',
    load: async () => (await import('./measure.js')).measure,
  },
  correct: {
    does: 'corrects readings with the factors of a comparison',
    load: async () => (await import('./correct.js')).correct,
  },
  settle: {
    does: 'says from traces how long to wait, and how steady each source is',
    load: async () => (await import('./settle.js')).settle,
  },
  notebook: {
    does: 'runs one notebook, headless',
    load: async () => (await import('./notebook.js')).notebook,
  },
};

function help(): string {
  const width = Math.max(...Object.keys(VERBS).map((name) => name.length));
  const lines = Object.entries(VERBS).map(([name, { does }]) => `  ${name.padEnd(width)}  ${does}`);
  return `npx meterpair VERB …

${lines.join('\n')}

  npx meterpair VERB -h    how to use it, with examples
  npx meterpair --version

Exit code 0: done, whatever the verdict. 2: the input or the command needs mending, and the
message says where. 1: a fault of the program.
`;
}

/** Runs the command that the arguments name, and gives its exit code. Never throws. */
export async function dispatch(args: readonly string[], io: Io): Promise<number> {
  try {
    return await run(args, io);
  } catch (error) {
    const { text, code } = complain(error);
    io.err(text);
    return code;
  }
}

async function run([name, ...rest]: readonly string[], io: Io): Promise<number> {
  if (name === undefined) {
    io.err(help());
    return BAD_INPUT;
  }
  if (name === '--version' || name === '-v') {
    io.out(`${versions().meterpair}\n`);
    return 0;
  }
  const asksForHelp = ['help', '--help', '-h'].includes(name);
  const [verb] = rest;
  if (asksForHelp && verb === undefined) {
    io.out(help());
    return 0;
  }
  return await (await verbOf(asksForHelp ? (verb ?? '') : name))(asksForHelp ? ['-h'] : rest, io);
}

async function verbOf(name: string): Promise<Verb> {
  const names = Object.keys(VERBS);
  const known = Object.hasOwn(VERBS, name) ? VERBS[name] : undefined;
  if (known !== undefined) return known.load();
  throw badUse(`There is no such command.${suggestion(name, names)}`, name, names.join(', '));
}
