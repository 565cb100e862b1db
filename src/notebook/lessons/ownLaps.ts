/** The reader's own readings: typed, from a study, or those of an invented class. */
import type { PairedReadings } from '../../agree/pairedLevels.js';
import { argumentWrong, MeterpairError } from '../../error.js';
import { readStudy } from '../../record/readStudy.js';
import { lapPairs } from '../../series/lapPairs.js';
import { showSentences } from '../display.js';

/** Readings in mW, lap by lap; no reference where one meter was read alone. */
export interface OwnLaps extends PairedReadings {
  /** Where they come from, in words. */
  readonly from: string;
}

/** Invented: ten pupils take one reading each on a meter with steps of 0.1 and on one of 1 mW. */
const CLASS: OwnLaps = {
  from: 'an invented class: ten pupils, one lap each',
  reference: [52.1, 51.8, 52.4, 52, 51.7, 52.3, 51.9, 52.2, 51.6, 52],
  candidate: [47, 47, 48, 47, 46, 47, 47, 48, 46, 47],
};

/**
 * @param source `class`; or readings in mW, a lap a line or between semicolons, the reference
 *   first, or those of one meter alone; or the folder of a study, of which the series with the
 *   most complete laps is taken
 * @throws argument-wrong for readings that are no laps, and as `readStudy`
 */
export async function ownLaps(source: string): Promise<OwnLaps> {
  const text = source.trim();
  if (text === '' || text === 'class') return CLASS;
  return /^[\d\s.,;|]+$/.test(text) ? typedLaps(text) : studyLaps(text);
}

/**
 * Hands the laps to what shows them; what is wrong with them is said in a sentence.
 *
 * @param least laps needed; 0: readings of one meter alone will do
 */
export async function withOwnLaps(
  source: string,
  least: number,
  use: (own: OwnLaps) => void,
): Promise<void> {
  try {
    const own = await ownLaps(source);
    showSentences([`Readings: ${own.from}.`]);
    if (least > 0) requireLaps(own, least);
    use(own);
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    showSentences([error.message]);
  }
}

/** @throws argument-wrong where one meter was read alone, or fewer than `least` laps are there */
export function requireLaps(own: OwnLaps, least: number): void {
  if (own.reference.length === 0) {
    throw argumentWrong(
      'These are readings of one meter; this needs laps.',
      undefined,
      '"52.1 47; 51.8 47; …"',
    );
  }
  if (own.reference.length < least) {
    throw argumentWrong(`This needs ${least} laps or more.`, own.reference.length);
  }
}

function typedLaps(text: string): OwnLaps {
  const rows = text
    .split(/[\n;]/)
    .map((row) =>
      row
        .trim()
        .split(/[\s|]+/)
        .filter((part) => part !== ''),
    )
    .filter((row) => row.length > 0)
    .map((row) => row.map((part) => Number(part.replace(/,$/, '').replace(',', '.'))));
  const numbers = rows.flat();
  const wrong = numbers.find((one) => !(Number.isFinite(one) && one > 0));
  if (wrong !== undefined || numbers.length < 2) {
    throw argumentWrong(
      'Two or more readings above zero are needed.',
      text,
      '"52.1 47; 51.8 47; …"',
    );
  }
  if (rows.every((row) => row.length === 2) && rows.length > 1) {
    const of = (place: number) => rows.map((row) => row[place] ?? Number.NaN);
    return { from: `${rows.length} laps that were typed`, reference: of(0), candidate: of(1) };
  }
  if (rows.length === 1 || rows.every((row) => row.length === 1)) {
    return {
      from: `${numbers.length} readings of one meter that were typed`,
      reference: [],
      candidate: numbers,
    };
  }
  throw argumentWrong(
    'Some laps have two readings and some have not.',
    text,
    '"52.1 47; 51.8 47; …"',
  );
}

async function studyLaps(folder: string): Promise<OwnLaps> {
  const study = await readStudy(folder);
  const all = study.series
    .map((series) => ({
      series,
      laps: lapPairs(series).filter(
        (lap) => (lap.reference.exclude ?? lap.candidate.exclude) === null,
      ),
    }))
    .sort((a, b) => b.laps.length - a.laps.length);
  const [longest] = all;
  if (longest === undefined || longest.laps.length < 2) {
    throw argumentWrong('This study has no series with two complete laps.', folder);
  }
  const { series, laps } = longest;
  return {
    from: `"${study.title}", series ${series.id} (${series.source}), the longest of ${all.length}: ${laps.length} laps without those excluded`,
    reference: laps.map((lap) => lap.reference.reading_mW),
    candidate: laps.map((lap) => lap.candidate.reading_mW),
  };
}
