// node scripts/count-tests.mjs VITEST.json [FURTHER FAILURES]
// Prints "N passed, N failed" from the numbers that the test runner wrote, and exits with 1 if
// anything failed. A test file that could not be run at all counts as a failure, and so does each
// failure the caller saw elsewhere.
import { readFileSync } from 'node:fs';

const [path, elsewhere = '0'] = process.argv.slice(2);
let passed = 0;
let failed = Number(elsewhere);
try {
  const report = JSON.parse(readFileSync(path, 'utf8'));
  passed = report.numPassedTests;
  failed += report.numFailedTests;
  failed += report.testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.every((t) => t.status !== 'failed'),
  ).length;
  const skipped = report.numPendingTests + (report.numTodoTests ?? 0);
  if (skipped > 0) console.log(`${skipped} tests were not run`);
} catch (error) {
  console.error(`No numbers from the test runner: ${error.message}`);
  failed += 1;
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
