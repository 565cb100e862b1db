import { readFileSync } from 'node:fs';

/** One line of test/fixtures/core.txt (made by core.R): its numbers. */
export function core(name: string): number[] {
  const text = readFileSync(new URL('../fixtures/core.txt', import.meta.url), 'utf8');
  const line = text.split('\n').find((one) => one.startsWith(`${name} `));
  if (line === undefined) throw new Error(`core.txt has no line "${name}"`);
  return line.trim().split(/\s+/).slice(1).map(Number);
}
