/** A runs.csv for a study folder that has none yet. */
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { MeterpairError } from '../error.js';
import { wholeBlocks } from '../plan/runOrder.js';
import { runSheet } from '../plan/runSheet.js';
import { regularText } from '../record/regularFile.js';
import { checkedSettings, studyValue } from '../record/studySettings.js';
import { LEAST_LAPS } from '../vocabulary.js';

export interface FirstSheet {
  /** `null`: there is a runs.csv already. */
  readonly runs: string | null;
  /** What was planned, in a sentence. */
  readonly note: string;
}

/**
 * One series a source, in the order of the study and with the fewest laps that a series should have.
 *
 * @throws file-missing, study-json-invalid, study-field-wrong; no-rows for a study without sources
 */
export async function firstSheet(folder: string): Promise<FirstSheet> {
  const expected = `a file study.json in ${folder}; \`meterpair plan FOLDER\` writes one`;
  const text = await regularText(join(folder, 'study.json'), 'study.json', expected);
  const settings = checkedSettings(studyValue(text));
  const there = await stat(join(folder, 'runs.csv')).catch(() => null);
  if (there !== null) return { runs: null, note: '' };
  const sources = settings.sources ?? [];
  if (sources.length === 0) {
    throw new MeterpairError({
      code: 'no-rows',
      file: 'study.json',
      message: 'There is no runs.csv, and study.json lists no sources to plan one from.',
      expected: 'sources in study.json, or a runs.csv from `meterpair plan FOLDER`',
    });
  }
  const order = settings.protocol.order ?? 'ABBA-BAAB';
  const laps = wholeBlocks(order, LEAST_LAPS);
  return {
    runs: runSheet({ sources, laps, order }),
    note: `There was no runs.csv; one was written with ${laps} laps for each source in the order ${order}. \`meterpair plan\` asks what you need and plans for it.`,
  };
}
