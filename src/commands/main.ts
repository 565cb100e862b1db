#!/usr/bin/env node
import { complain } from './complain.js';
import { dispatch } from './dispatch.js';
import type { Io } from './io.js';
import { ROOT } from './project.js';

const STOPPED = 130;

// A running notebook takes the streams; what a command says must get past it.
const out = process.stdout.write.bind(process.stdout);
const err = process.stderr.write.bind(process.stderr);

const cleaners = new Set<() => void>();

const io: Io = {
  from: typedIn(),
  ...(process.stdin.isTTY && process.stdout.isTTY ? { ask } : {}),
  out: (text) => void out(text),
  err: (text) => void err(text),
  columns: process.stdout.isTTY ? process.stdout.columns : null,
  onStop: (clean) => {
    cleaners.add(clean);
    return () => void cleaners.delete(clean);
  },
};

async function ask(question: string): Promise<string> {
  const { createInterface } = await import('node:readline/promises');
  const line = createInterface({ input: process.stdin, output: process.stdout });
  try {
    return await line.question(question);
  } finally {
    line.close();
  }
}

/** npm runs a script in the project's folder and says where the command was typed. */
function typedIn(): string {
  const here = process.cwd();
  return here === ROOT ? (process.env.INIT_CWD ?? here) : here;
}

function stop(code: number): never {
  for (const clean of cleaners) clean();
  process.exit(code);
}

for (const event of ['uncaughtException', 'unhandledRejection'] as const) {
  process.on(event, (error: unknown) => {
    const complaint = complain(error);
    err(complaint.text);
    stop(complaint.code);
  });
}
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
  process.on(signal, () => stop(STOPPED));
}
// Whoever stops reading has seen enough.
process.stdout.on('error', () => stop(0));

process.exitCode = await dispatch(process.argv.slice(2), io);
