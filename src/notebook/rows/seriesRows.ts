import type { Result, Study } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

/** What was measured: one row a series, comparison and setting series alike. */
export function seriesRows(study: Study, result: Result): readonly TableRow[] {
  return study.series.map((series) => {
    const found = result.series.find((one) => one.id === series.id);
    return {
      Series: series.id,
      Source: series.source,
      'Wavelength in nm': series.wavelength_nm,
      Runs: series.runs.length,
      Laps: found?.laps ?? null,
      'Used, reference': found?.used.reference ?? null,
      'Used, candidate': found?.used.candidate ?? null,
      Times: series.timed ? 'recorded' : 'taken as even',
      Purpose: series.kind === 'comparison' ? 'comparison' : 'wavelength setting',
    };
  });
}
