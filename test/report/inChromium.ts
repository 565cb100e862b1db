/** Chromium for the tests of pages; where it is missing they say so, or fail under METERPAIR_FULL_CHECKS=1. */
import { accessSync, constants, readFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { analyse } from '../../src/analyse.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { appendixFigures, reportFigures } from '../../src/figures/reportFigures.js';
import { readStudy } from '../../src/record/readStudy.js';
import { appendixPage } from '../../src/report/appendixPage.js';
import { cardPage } from '../../src/report/cardPage.js';
import { reportPage } from '../../src/report/reportPage.js';

/** Under this variable a missing program is a failure and not "not run here". */
export const FULL = process.env.METERPAIR_FULL_CHECKS === '1';

export { CHROMIUM_ARGUMENTS as ARGUMENTS } from '../chromium.js';

/** The path of the first of these programs that is there; `null` where none is. */
export function onPath(...names: readonly string[]): string | null {
  const places = (process.env.PATH ?? '').split(delimiter).filter((place) => place !== '');
  return places.flatMap((place) => names.map((name) => join(place, name))).find(executable) ?? null;
}

function executable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** The library as the project's build minifies it, or as installed. */
export function library(): string {
  const built = new URL('../../dist/plotly.min.js', import.meta.url);
  try {
    return readFileSync(built, 'utf8');
  } catch {
    return readFileSync(
      new URL('../../node_modules/plotly.js-basic-dist-min/plotly-basic.min.js', import.meta.url),
      'utf8',
    );
  }
}

/** Report, card and appendix of the demo study, by name. */
export async function demoPages(): Promise<
  Readonly<Record<'report' | 'card' | 'appendix', string>>
> {
  const folder = new URL('../../data-demo/1-workshop-evening', import.meta.url);
  const study = await readStudy(fileURLToPath(folder));
  const result = analyse(study);
  const input = {
    study,
    result,
    factors: factorsOf(study, result),
    figures: [...reportFigures(study, result), ...appendixFigures(study, result)],
    plotlyBundle: library(),
    versions: { meterpair: '0.1.0' },
  };
  return {
    report: reportPage(input),
    card: cardPage(study, result),
    appendix: appendixPage(input),
  };
}
