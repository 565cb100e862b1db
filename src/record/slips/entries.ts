/** The runs of a series as slips are looked for in them. */
import { median } from 'simple-statistics';
import type { Run, Series } from '../../vocabulary.js';
import { decimalPlaces, shownValue } from './typedNumber.js';

/** A run that counts, with what was typed and what it says. */
export interface Entry {
  readonly run: Run;
  /** What the display showed, in mW. */
  readonly shown: number;
  /** ln of the reading with its zero subtracted. */
  readonly y: number;
  /** Runs that should read alike: one meter, in a setting series one setting. */
  readonly group: number;
  /** Decimals that the display shows in this group. */
  readonly places: number;
}

/** The entries of a series that were not left out; readings at or below zero are no entries. */
export function entriesOf(series: Series): Entry[] {
  const runs = series.runs.filter((run) => run.exclude === null && run.reading_mW > 0);
  const name = (run: Run) =>
    series.kind === 'setting' ? `${run.meter} ${run.setting_nm}` : run.meter;
  const names = [...new Set(runs.map(name))];
  const shown = runs.map((run) => shownValue(run.reading_mW, run.zero_mW));
  const places = names.map((group) =>
    Math.ceil(median(shown.filter((_, i) => name(runs[i]!) === group).map(decimalPlaces))),
  );
  return runs.map((run, index) => {
    const group = names.indexOf(name(run));
    return {
      run,
      shown: shown[index]!,
      y: Math.log(run.reading_mW),
      group,
      places: places[group]!,
    };
  });
}
