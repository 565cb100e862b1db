// node scripts/same-result.mjs EXECUTED.ipynb RESULT.json
// Exits with 0 only if the result that an executed notebook carries is the one in the file.
import { readFileSync } from 'node:fs';

const [notebookPath, resultPath] = process.argv.slice(2);
if (resultPath === undefined) {
  console.error('Usage: node scripts/same-result.mjs EXECUTED.ipynb RESULT.json');
  process.exit(1);
}

/** One text for one value: keys in order, so that only the content counts. */
function canonical(value) {
  return JSON.stringify(value, (_key, part) =>
    part !== null && typeof part === 'object' && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : typeof part === 'number'
        ? // Files hold 12 significant digits.
          Number(part.toPrecision(12))
        : part,
  );
}

const notebook = JSON.parse(readFileSync(notebookPath, 'utf8'));
const records = notebook.cells
  .flatMap((cell) => cell.outputs ?? [])
  .map((output) => output.data?.['application/json'])
  .filter((data) => data?.schema === 'meterpair.result/2');
if (records.length !== 1) {
  console.error(`${notebookPath}: ${records.length} results in the notebook, not one.`);
  process.exit(1);
}
const fromNotebook = canonical(records[0]);
const fromFile = canonical(JSON.parse(readFileSync(resultPath, 'utf8')));
if (fromNotebook !== fromFile) {
  const at = [...fromNotebook].findIndex((character, place) => character !== fromFile[place]);
  console.error(`${notebookPath} and ${resultPath} differ:
  notebook … ${fromNotebook.slice(Math.max(0, at - 80), at + 80)} …
  file     … ${fromFile.slice(Math.max(0, at - 80), at + 80)} …`);
  process.exit(1);
}
console.log(`${notebookPath}: the same result as ${resultPath} (${fromFile.length} characters).`);
