import { appendixFigures, reportFigures } from '../figures/reportFigures.js';
import { drawFigures } from '../notebook/drawFigures.js';
import { sharedTables } from '../notebook/sharedTables.js';
import type { Result, Study } from '../vocabulary.js';
import type { OutputFiles } from './seal.js';

/** Width of a picture, px; its height is that of the figure. */
const WIDTH = 900;

/**
 * Every figure as SVG and every table as CSV. Their names carry the first eight digits of the data's
 * fingerprint, so that those of other data stay beside them.
 *
 * @throws command-line where Chromium is missing, and says what is needed
 */
export async function figureFiles(study: Study, result: Result): Promise<OutputFiles> {
  const figures = [...reportFigures(study, result), ...appendixFigures(study, result)];
  const pictures = await drawFigures(figures, { format: 'svg', width: WIDTH });
  const own = (name: string) => name.replace(/\.(?=\w+$)/, `-${result.data_sha256.slice(0, 8)}.`);
  return Object.fromEntries([
    ...pictures.map(({ name, bytes }) => [own(name), new TextDecoder().decode(bytes)] as const),
    ...sharedTables(study, result).map(({ name, text }) => [own(name), text] as const),
  ]);
}
