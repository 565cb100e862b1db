// npm run notebooks            builds, makes the notebook kernel known to Jupyter, opens Jupyter
// npm run notebooks -- ARGS    the same; ARGS go to Jupyter
// node scripts/notebooks.mjs --prepare
//                              only makes the kernel known, and prints the environment for it
//
// The kernel's description goes into this project and not among the user's own kernels.
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const jupyterFolder = join(root, 'dist', 'jupyter');
const args = process.argv.slice(2);

// Standard output is for the environment alone when it is printed.
const build = spawnSync(process.execPath, [join(root, 'scripts', 'build.mjs')], {
  stdio: ['ignore', 2, 2],
});
if (build.status !== 0) {
  console.error('The package could not be built, so the notebooks would not find it.');
  process.exit(1);
}

const require = createRequire(import.meta.url);
const kernel = {
  argv: [
    process.execPath,
    join(dirname(require.resolve('tslab/package.json')), 'bin', 'tslab'),
    'kernel',
    '--config-path',
    '{connection_file}',
  ],
  display_name: 'TypeScript',
  language: 'typescript',
};
mkdirSync(join(jupyterFolder, 'kernels', 'tslab'), { recursive: true });
writeFileSync(
  join(jupyterFolder, 'kernels', 'tslab', 'kernel.json'),
  `${JSON.stringify(kernel, null, 2)}\n`,
);

const path = [jupyterFolder, process.env.JUPYTER_PATH].filter(Boolean).join(delimiter);
if (args.includes('--prepare')) {
  console.log(`export JUPYTER_PATH='${path.replaceAll("'", `'\\''`)}'`);
  process.exit(0);
}

const env = { ...process.env, JUPYTER_PATH: path };
const front = ['notebook', 'lab'].find(
  (name) => spawnSync('jupyter', [name, '--version'], { env, stdio: 'ignore' }).status === 0,
);
if (front === undefined) {
  console.error(`Jupyter is not on this machine, or not on the PATH.

  Debian, Ubuntu:  sudo apt-get install jupyter-notebook
  elsewhere:       your system's package manager, or Python's own:
                   python3 -m pip install notebook

Then type  npm run notebooks  again. The comparison itself needs no Jupyter: npm start runs it.`);
  process.exit(1);
}
const jupyter = spawnSync('jupyter', [front, join(root, 'notebooks'), ...args], {
  env,
  stdio: 'inherit',
});
process.exit(jupyter.status ?? 1);
