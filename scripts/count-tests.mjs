// node scripts/count-tests.mjs FURTHER-FAILURES VITEST.json …
// Prints "N passed, N failed" from the numbers that the test runner wrote, and exits with 1 if
// anything failed. A test file that could not be run at all counts as a failure, and so does each
// failure the caller saw elsewhere.
import { readFileSync } from 'node:fs';

const [elsewhere, ...paths] = process.argv.slice(2);
let passed = 0;
let failed = Number(elsewhere);
let skipped = 0;
for (const path of paths) {
  try {
    const report = JSON.parse(readFileSync(path, 'utf8'));
    passed += report.numPassedTests;
    failed += report.numFailedTests;
    failed += report.testResults.filter(
      (file) =>
        file.status === 'failed' && file.assertionResults.every((t) => t.status !== 'failed'),
    ).length;
    skipped += report.numPendingTests + (report.numTodoTests ?? 0);
  } catch (error) {
    console.error(`No numbers from the test runner: ${error.message}`);
    failed += 1;
  }
}
if (skipped > 0) console.log(`${skipped} tests were not run`);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
