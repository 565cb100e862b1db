import { MeterpairError } from '../error.js';
import type { Result } from '../vocabulary.js';
import type { Notebook } from './notebookFile.js';

/**
 * The result that an executed notebook carries: what `showRecord` put there.
 *
 * @param notebook an executed notebook
 * @param data_sha256 fingerprint of the study it was run on
 * @throws notebook-failed when the notebook shows no result, or that of other data
 */
export function recordOf(notebook: Notebook, data_sha256: string): Result {
  const records = notebook.cells
    .flatMap((cell) => cell.outputs ?? [])
    .flatMap((output) => (output.output_type === 'display_data' ? [output.data] : []))
    .map((data) => data['application/json'])
    .filter(isResult);
  const record = records.at(-1);
  if (record === undefined)
    throw failed('The notebook shows no result: showRecord was not called.');
  if (record.data_sha256 !== data_sha256) {
    throw failed('The result in the notebook belongs to other data than the study that was read.');
  }
  return record;
}

function isResult(value: unknown): value is Result {
  return (
    typeof value === 'object' &&
    value !== null &&
    'schema' in value &&
    value.schema === 'meterpair.result/2'
  );
}

function failed(message: string): MeterpairError {
  return new MeterpairError({ code: 'notebook-failed', message });
}
