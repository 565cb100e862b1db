import { formatNumber } from '../../findings/formatNumber.js';
import type { Result, Study } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** Every run that was left out, with its reading and the reason. */
export function exclusionRows(study: Study, result: Result): readonly TableRow[] {
  return result.series.flatMap((series) =>
    series.excluded.map((one) => ({
      Series: series.id,
      Run: one.run,
      Meter: one.meter,
      'Reading in mW': readingOf(study, series.id, one.run),
      Kind: one.kind,
      Reason: one.reason,
    })),
  );
}

/** What leaving runs out does to the factor: K with them and without them. */
export function exclusionEffectRows(result: Result): readonly TableRow[] {
  return result.series.flatMap((series) =>
    series.exclusion_effects.map((effect) => ({
      Series: series.id,
      Kind: effect.kind,
      Runs: effect.runs.join(', '),
      'K with them': formatNumber(effect.factor_with, { digits: 5 }),
      'K without them': formatNumber(effect.factor_without, { digits: 5 }),
      Change: change(effect.factor_with, effect.factor_without),
    })),
  );
}

/** Runs that look odd by statistics alone. */
export function flagRows(study: Study, result: Result): readonly TableRow[] {
  return result.series.flatMap((series) =>
    series.flagged.map((flag) => ({
      Series: series.id,
      Run: flag.run,
      Meter: flag.meter,
      'Reading in mW': readingOf(study, series.id, flag.run),
      Test: flag.test,
      Finding: flag.message,
    })),
  );
}

function readingOf(study: Study, id: string, run: number): number | null {
  const series = study.series.find((one) => one.id === id);
  return series?.runs.find((one) => one.run === run)?.reading_mW ?? null;
}

function change(with_: number | null, without: number | null): string {
  if (with_ === null || without === null || with_ === 0) return formatNumber(null);
  return formatNumber(without / with_ - 1, { as: 'percent', digits: 2 });
}
