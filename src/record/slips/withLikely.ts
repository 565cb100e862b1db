import type { Run, Series, Study, Suspect } from '../../vocabulary.js';
import { movePoint, shownValue } from './typedNumber.js';
import { OPEN_SUSPECT } from './withoutSuspects.js';

/**
 * The study with the likely value in place of every suspect one. Entries without a likely value are
 * left out (`exclude`), since nobody knows what they should be; of a row written twice, the copy.
 */
export function withLikely(study: Study, suspects: readonly Suspect[]): Study {
  const series = study.series.map((one) =>
    suspects
      .filter((suspect) => suspect.series === one.id)
      // Single numbers first: their likely value is in the unit that was typed.
      .sort((a, b) => a.rows.length - b.rows.length)
      .reduce((mended, suspect) => mend(mended, suspect, study.layout), one),
  );
  return { ...study, series };
}

function mend(series: Series, suspect: Suspect, layout: Study['layout']): Series {
  const { rows, kind, likely, meter } = suspect;
  const inRows = (run: Run) => rows.includes(run.row);
  const change = (concerns: (run: Run) => boolean, to: (run: Run) => Run): Series => ({
    ...series,
    runs: series.runs.map((run) => (concerns(run) ? to(run) : run)),
  });
  if (likely === null) {
    const all = kind === 'repeated' || kind === 'exchanged';
    return change(
      (run) => inRows(run) && (all || run.meter === meter),
      (run) => ({ ...run, exclude: run.exclude ?? OPEN_SUSPECT }),
    );
  }
  if (kind === 'exchanged') {
    const whole = series.runs.every(inRows);
    if (whole && layout === 'tidy') {
      return change(inRows, (run) => ({
        ...run,
        meter: run.meter === 'reference' ? 'candidate' : 'reference',
      }));
    }
    return change(inRows, (run) => {
      const partner = series.runs.find(
        (other) => other.lap === run.lap && other.meter !== run.meter,
      );
      if (partner === undefined) return run;
      const { reading_mW, peak_mW, zero_mW } = partner;
      return { ...run, reading_mW, peak_mW, zero_mW };
    });
  }
  const concerns = (run: Run) => inRows(run) && run.meter === meter;
  if (rows.length === 1) return change(concerns, (run) => oneNumber(run, suspect, likely));
  const places = Math.round(Math.log10(likely / suspect.found));
  return change(concerns, (run) => ({
    ...run,
    reading_mW: movePoint(run.reading_mW, places),
    peak_mW: run.peak_mW === null ? null : movePoint(run.peak_mW, places),
    zero_mW: run.zero_mW === null ? null : movePoint(run.zero_mW, places),
  }));
}

/** One number of a run, and what the zero does to the others. */
function oneNumber(run: Run, { quantity = 'reading' }: Suspect, likely: number): Run {
  const shown = {
    reading: shownValue(run.reading_mW, run.zero_mW),
    peak: run.peak_mW === null ? null : shownValue(run.peak_mW, run.zero_mW),
    zero: run.zero_mW,
    [quantity]: likely,
  };
  const zero = shown.zero ?? 0;
  return {
    ...run,
    reading_mW: shown.reading - zero,
    peak_mW: shown.peak === null ? null : shown.peak - zero,
    zero_mW: shown.zero,
  };
}
