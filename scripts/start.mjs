// npm start -- ARGS    builds what is not current and compares, in one process
import { build } from './build.mjs';

if (await build({ checked: false })) {
  process.argv.splice(2, 0, 'compare');
  await import('../dist/commands/main.js');
} else {
  process.exitCode = 1;
}
