// node scripts/other-nodes.mjs VERSION …
// Brings other versions of Node from the registry into a temporary folder, compares every demo with each of
// them, and fails where result.json or factors.json differ by a byte from those of the Node it runs on.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const command = join(root, 'dist/commands/main.js');
const scratch = mkdtempSync(join(tmpdir(), 'meterpair-nodes-'));
const demos = readdirSync(join(root, 'data-demo'));

function outputsOf(node, name) {
  return demos.map((demo) => {
    const out = join(scratch, name, demo);
    const args = [command, 'compare', join(root, 'data-demo', demo), '--no-notebook', '--out', out];
    execFileSync(node, args, { stdio: ['ignore', 'ignore', 'inherit'] });
    return ['result.json', 'factors.json']
      .map((file) => readFileSync(join(out, file), 'utf8'))
      .join();
  });
}

let differing = 0;
try {
  const here = outputsOf(process.execPath, 'here');
  for (const version of process.argv.slice(2)) {
    const prefix = join(scratch, `node-${version}`);
    const npm = [
      'install',
      '--no-audit',
      '--no-fund',
      '--loglevel=error',
      '--prefix',
      prefix,
      `node@${version}`,
    ];
    execFileSync('npm', npm, { stdio: ['ignore', 'ignore', 'inherit'] });
    const node = join(prefix, 'node_modules/node/bin/node');
    const there = outputsOf(node, version);
    const odd = demos.filter((_, i) => there[i] !== here[i]);
    differing += odd.length;
    const told = execFileSync(node, ['--version'], { encoding: 'utf8' }).trim();
    console.log(
      `${told}: ${odd.length === 0 ? 'the same bytes for every demo' : `other bytes for ${odd.join(', ')}`}`,
    );
  }
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
process.exit(differing === 0 ? 0 : 1);
