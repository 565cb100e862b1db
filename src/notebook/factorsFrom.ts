import { analyse } from '../analyse.js';
import { factorsOf } from '../factors/factorsOf.js';
import { readFactors } from '../factors/readFactors.js';
import { readStudy } from '../record/readStudy.js';
import type { Factors } from '../vocabulary.js';

/**
 * The factors in a file whose name ends in .json, or those of the study in a folder, analysed now.
 *
 * @throws as `readFactors` and `readStudy`
 */
export async function factorsFrom(path: string): Promise<Factors> {
  if (/\.json$/i.test(path)) return readFactors(path);
  const study = await readStudy(path);
  return factorsOf(study, analyse(study));
}

/** What of a reader's own files serves for what; `null` where they are too few for it. */
export interface OwnFactors {
  /** The last two. */
  readonly pair: readonly [Factors, Factors] | null;
  readonly checks: readonly Factors[] | null;
  readonly units: readonly Factors[] | null;
  /** Which parts use them and which use invented data, and why. */
  readonly sentences: readonly string[];
}

/**
 * The factors of a reader's own comparisons, and what they are enough for. Nothing is taken or left in silence.
 *
 * @param files paths as for `factorsFrom`: re-checks of one candidate in the order of time, units of one model
 */
export async function ownFactors(files: {
  readonly reChecks: readonly string[];
  readonly units: readonly string[];
}): Promise<OwnFactors> {
  const reChecks = await Promise.all(files.reChecks.map(factorsFrom));
  const units = await Promise.all(files.units.map(factorsFrom));
  const [then, now] = reChecks.slice(-2);
  const used = (part: string, given: number, least: number, own: string) =>
    given >= least
      ? `${part}: ${own}.`
      : `${part}: invented data${given === 0 ? '' : `, because you named ${given} and this takes ${least} or more; what you named is not used here`}.`;
  return {
    pair: now === undefined ? null : [then, now],
    checks: reChecks.length < 3 ? null : reChecks,
    units: units.length < 2 ? null : units,
    sentences: [
      used('Then and now', reChecks.length, 2, 'your last two comparisons'),
      used('Again and again', reChecks.length, 3, `your ${reChecks.length} comparisons`),
      used('Several units', units.length, 2, `your ${units.length} units`),
    ],
  };
}
