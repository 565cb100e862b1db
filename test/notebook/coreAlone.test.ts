import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { expect, test, vi } from 'vitest';

// Each check starts a process of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 120_000 });

/** Loads a built module in a process of its own, where the named packages cannot be loaded. */
function loadWithout(packages: readonly string[], module: string) {
  const hook = `export async function resolve(specifier, context, next) {
    const forbidden = ${JSON.stringify(packages)};
    if (forbidden.some((p) => specifier === p || specifier.startsWith(p + '/'))) {
      throw new Error('FORBIDDEN ' + specifier);
    }
    return next(specifier, context);
  }`;
  const code = `import { register } from 'node:module';
    register(${JSON.stringify(`data:text/javascript,${encodeURIComponent(hook)}`)});
    const loaded = await import(${JSON.stringify(new URL(module, import.meta.url).href)});
    console.log(Object.keys(loaded).length);`;
  return spawnSync(process.execPath, ['--input-type=module', '-e', code], { encoding: 'utf8' });
}

const NOTEBOOK_PACKAGES = ['tslab', 'danfojs', 'plotly.js-dist'];

test('the package loads where the kernel, the plots and the frames are not installed', () => {
  const run = loadWithout(NOTEBOOK_PACKAGES, '../../dist/index.js');
  expect(run.stderr).toBe('');
  expect(Number(run.stdout)).toBeGreaterThan(0);
});

test('the check above can fail', () => {
  expect(loadWithout(['node:fs/promises'], '../../dist/index.js').stderr).toContain(
    'FORBIDDEN node:fs/promises',
  );
});

test('the commands load without them too', () => {
  const run = loadWithout(NOTEBOOK_PACKAGES, '../../dist/commands/compare.js');
  expect(run.stderr).toBe('');
  expect(Number(run.stdout)).toBeGreaterThan(0);
});

test('the notebook helpers load without the data frames until a frame is asked for', () => {
  const run = loadWithout(['danfojs'], '../../dist/notebook/index.js');
  expect(run.stderr).toBe('');
  expect(existsSync(new URL('../../dist/plotly.min.js', import.meta.url))).toBe(true);
});
