// Compiles src/ to dist/ with the project's own compiler, makes the minified plotting bundle and
// exports the JSON Schema of study.json. `npx tsc` is not used: tslab installs another compiler
// under that name.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const dist = join(root, 'dist');
const require = createRequire(import.meta.url);

const compile = spawnSync(
  process.execPath,
  [join(root, 'node_modules/typescript/bin/tsc'), '-p', join(root, 'tsconfig.json')],
  { stdio: 'inherit' },
);
if (compile.status !== 0) process.exit(compile.status ?? 1);

const bundle = join(dist, 'plotly.min.js');
const source = require.resolve('plotly.js-dist');
if (!existsSync(bundle) || statSync(bundle).mtimeMs < statSync(source).mtimeMs) {
  mkdirSync(dist, { recursive: true });
  await build({
    entryPoints: [source],
    outfile: bundle,
    minify: true,
    legalComments: 'none',
    logLevel: 'error',
  });
}

// The page for the bench: everything in one file, so that it loads nothing else.
await build({
  entryPoints: [join(root, 'src/measure/page/main.ts')],
  outfile: join(dist, 'measure/page.js'),
  bundle: true,
  format: 'esm',
  target: 'es2022',
  minify: true,
  legalComments: 'none',
  logLevel: 'error',
});

const { studyJsonSchema } = await import('../dist/record/index.js');
writeFileSync(join(dist, 'study.schema.json'), `${JSON.stringify(studyJsonSchema(), null, 2)}\n`);
