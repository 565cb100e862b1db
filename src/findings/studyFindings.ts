/** What was measured: meters, sources, series, how the runs were taken, values from elsewhere. */

import { asTaken } from '../readings/asTaken.js';
import { runsOn } from '../record/meters.js';
import type { MeterRole, Result, Series, Study } from '../vocabulary.js';
import { type Finding, finding, numbers, table, WAVELENGTH, words } from './finding.js';
import { KIND_WORDS } from './findingWords.js';
import { formatAlike, formatNumber } from './formatNumber.js';
import { labelWords, NOT_STATED } from './words.js';

export function meters(study: Study): Finding {
  return finding({
    id: 'meters',
    title: 'The meters',
    ...table(
      [study.reference, study.candidate],
      [
        [words('Meter'), (meter) => meter.name],
        [words('Role'), (meter) => meter.role],
        [words('Serial number'), (meter) => meter.serial ?? NOT_STATED],
        [words('Display step / mW'), (meter) => stated(meter.resolution_mW)],
        [words('Rated to / mW'), (meter) => stated(meter.rated_max_mW)],
        [
          words('Stated expanded uncertainty'),
          (meter) =>
            meter.expanded_uncertainty_percent === null
              ? NOT_STATED
              : `${formatNumber(meter.expanded_uncertainty_percent)} % of reading (k = ${formatNumber(meter.coverage_factor)})`,
        ],
        [
          words('Wavelength setting'),
          (meter) =>
            meter.wavelength_setting === null
              ? NOT_STATED
              : meter.wavelength_setting
                ? 'has one'
                : 'has none',
        ],
      ],
    ),
    sentences: [protocolWords(study)],
    empty: '',
  });
}

const stated = (value: number | null): string =>
  value === null ? NOT_STATED : formatNumber(value);

/** Every series, comparison and setting series alike, with what its source's label says. */
export function seriesList(study: Study, result: Result): Finding {
  return finding({
    id: 'measured',
    title: 'Series, in the order they were taken',
    ...table(study.series, [
      [words('Series'), (series) => series.id],
      [words('Source'), (series) => series.source],
      [WAVELENGTH, (series) => series.wavelength_nm],
      [words('Label'), (series) => labelOf(study, series)],
      [numbers('count', 'Runs'), (series) => series.runs.length],
      [
        numbers('count', 'Laps'),
        ({ id }) => result.series.find((one) => one.id === id)?.laps ?? null,
      ],
      [words('Times'), ({ timed }) => (timed ? 'recorded' : 'taken as even')],
      [
        words('Purpose'),
        ({ kind, filter }) =>
          `${kind === 'comparison' ? kind : 'wavelength setting'}${filter === null ? '' : `, through filter ${filter}`}`,
      ],
    ]),
    empty: 'There is no series.',
  });
}

function labelOf({ sources }: Study, { source }: Series): string {
  const labelled = sources.find((one) => one.name === source);
  return labelled === undefined ? NOT_STATED : labelWords(labelled);
}

function protocolWords({ protocol }: Study): string {
  const order =
    protocol.order === null ? 'No run order was stated' : `Stated run order: ${protocol.order}`;
  const read =
    protocol.read_at_s === null
      ? 'when readings were taken after switch-on is not stated'
      : `readings taken ${formatNumber(protocol.read_at_s)} s after switch-on`;
  const discard =
    protocol.discard_first_laps === 0
      ? 'no laps declared as warm-up beforehand'
      : `the first ${protocol.discard_first_laps} laps of every series declared as warm-up beforehand`;
  const cold = protocol.exclude_cold_starts
    ? 'a cold first lap that the rest contradicts is left out'
    : 'cold first laps are kept';
  const outliers = protocol.exclude_outliers
    ? 'statistical outliers are left out'
    : 'statistical outliers are flagged and kept';
  return `${order}; ${read}; ${discard}; ${cold}; ${outliers}.`;
}

/** Values from elsewhere, as they are stated. */
export function opinionsStated(study: Study): Finding {
  return finding({
    id: 'opinions-stated',
    title: 'Values from elsewhere (they take no part in the factors)',
    ...table(study.opinions, [
      [words('Source'), (one) => one.source],
      [words('From'), (one) => KIND_WORDS[one.kind]],
      [numbers('power', 'Value', 'mW'), (one) => one.value_mW],
      [
        words('Stated uncertainty'),
        (one) =>
          one.expanded_uncertainty_mW === null
            ? NOT_STATED
            : `± ${formatNumber(one.expanded_uncertainty_mW)} mW${one.coverage_factor === null ? '' : ` (k = ${formatNumber(one.coverage_factor)})`}`,
      ],
      [words('Date'), (one) => one.date ?? NOT_STATED],
      [words('Note'), (one) => one.note ?? ''],
    ]),
    empty: 'No value from elsewhere was stated.',
  });
}

/** Every reading, a row a series; a star marks a run that the factors leave out. */
export function readings(study: Study, result: Result): Finding {
  return finding({
    id: 'readings',
    title: 'Every reading, as the analysis takes it',
    columns: [words('Series'), words('Order'), words('Reference / mW'), words('Candidate / mW')],
    rows: asTaken(study).series.map((series) => {
      const out = result.series.find((one) => one.id === series.id)?.excluded ?? [];
      const isOut = (run: number) => out.some((one) => one.run === run);
      const of = (meter: MeterRole) => {
        const runs = runsOn(series.runs, meter);
        const shown = formatAlike(
          runs.map((run) => run.reading_mW),
          6,
        );
        return runs
          .map((run, i) => `${shown[i]}${isOut(run.run) || run.exclude !== null ? '*' : ''}`)
          .join(' ');
      };
      const order = series.runs.map((run) => (run.meter === 'reference' ? 'A' : 'B')).join('');
      return [series.id, order, of('reference'), of('candidate')];
    }),
    notes: [
      'A is the reference, B the candidate, in the order of the runs. A star marks a run that the factors leave out. Times, peaks, zeros and notes stand in runs.csv.',
    ],
    empty: 'There is no series.',
  });
}
