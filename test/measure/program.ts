/** The built command as a user starts it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

export const SCRIPT = fileURLToPath(new URL('../../dist/commands/main.js', import.meta.url));

export interface Program {
  readonly child: ChildProcess;
  readonly address: string;
  /** What it printed up to the address. */
  readonly output: string;
}

/** Starts `measure FOLDER`; fails with what it says when it ends without an address. */
export function started(folder: string, more: readonly string[] = []): Promise<Program> {
  const child = spawn(process.execPath, [SCRIPT, 'measure', folder, '--no-open', ...more], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return new Promise((done, fail) => {
    let output = '';
    let told = '';
    child.stdout.on('data', (part) => {
      output += String(part);
      const address = /http:\/\/127\.0\.0\.1:\d+\/\S+\//.exec(output)?.[0];
      if (address !== undefined) done({ child, address, output });
    });
    child.stderr.on('data', (part) => {
      told += String(part);
    });
    child.once('close', () => fail(new Error(told)));
  });
}
