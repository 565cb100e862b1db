import { spawn } from 'node:child_process';

const OPENERS: Readonly<Record<string, readonly [string, ...string[]]>> = {
  darwin: ['open'],
  win32: ['cmd', '/c', 'start', '""'],
};

/** Opens an address or a file in the user's own program, if there is a way; else nothing happens. */
export function openFile(target: string): void {
  const [command, ...first] = OPENERS[process.platform] ?? ['xdg-open'];
  const child = spawn(command, [...first, target], { stdio: 'ignore', detached: true });
  child.once('error', () => undefined);
  child.unref();
}
