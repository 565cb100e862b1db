/** What each series says: its factor, its differences, its drift, and what was left out of it. */
import { groupedBy } from '../statistics/groupedBy.js';
import type { DifferenceSummary, Exclusion, LimitsOfAgreement, Result } from '../vocabulary.js';
import {
  type Cell,
  type Finding,
  type FindingColumn,
  finding,
  numbers,
  table,
  WAVELENGTH,
  withHalf,
  words,
} from './finding.js';
import { EXCLUSION_WORDS } from './findingWords.js';
import { confidenceWords } from './words.js';

/** K of each series, by both roads: the model, and each candidate run against those around it. */
export function seriesFactors(result: Result): Finding {
  return finding({
    id: 'series-factors',
    title: `Factor of each series, relative to this reference (${confidenceWords(result.confidence)} intervals)`,
    ...table(result.series, [
      [words('Series'), (one) => one.id],
      [WAVELENGTH, (one) => one.wavelength_nm],
      [
        words('Laps used'),
        (one) => `${Math.min(one.used.reference, one.used.candidate)} of ${one.laps}`,
      ],
      [numbers('value', 'K'), (one) => withHalf(one.factor.value, one.factor)],
      [numbers('number', 'Interval'), (one) => [one.factor.low, one.factor.high]],
      [numbers('fraction', 'u', '%'), (one) => one.factor.relative_standard_uncertainty],
      [numbers('dof', 'ν'), (one) => one.factor.dof],
      [
        numbers('value', 'K by bracketing'),
        (one) => withHalf(one.factor_bracketed.value, one.factor_bracketed),
      ],
      [words('Verdict'), (one) => one.verdict],
    ]),
    notes: [
      'These intervals hold repeatability, drift and order only; the budget adds the rest. K by bracketing sets each candidate run against the reference runs on both sides: a second road with little in common with the first.',
    ],
    sentences: result.series
      .filter((one) => one.factor.value === null)
      .map((one) => `${one.id}: ${one.why}`),
    empty: 'There is no series with both meters.',
  });
}

const meanOf = (of: DifferenceSummary): Cell => withHalf(of.mean, of, true);

/** The limits of agreement in percent, and how well each is known. */
const limitColumns = <Item>(
  of: (one: Item) => LimitsOfAgreement,
): readonly (readonly [FindingColumn, (one: Item) => Cell])[] => [
  [numbers('percent', 'Limits of agreement', '%'), (one) => [of(one).low, of(one).high]],
  [numbers('percent', 'Interval of the lower', '%'), (one) => of(one).low_interval],
  [numbers('percent', 'Interval of the upper', '%'), (one) => of(one).high_interval],
];

/** Candidate minus reference, series by series and over the study. */
export function differences({ series, agreement, confidence }: Result): Finding {
  const rows = [...series, { ...agreement, id: 'Whole study' }];
  return finding({
    id: 'differences',
    title: `Candidate − reference, uncorrected; ± is half the ${confidenceWords(confidence)} interval of the mean`,
    ...table(rows, [
      [words('Series'), (one) => one.id],
      [numbers('value', 'Mean', 'mW'), (one) => meanOf(one.difference_mW)],
      [numbers('value', 'Mean', '%'), (one) => meanOf(one.difference_percent)],
      [numbers('percent', 'sd', '%'), (one) => one.difference_percent.sd],
      ...limitColumns<(typeof rows)[number]>((one) => one.limits_percent),
    ]),
    notes: [
      'The limits of agreement say where the difference of a single lap lies; their own intervals say how well so few laps fix them.',
    ],
    sentences: [`${agreement.why} Counted: ${agreement.series} series, ${agreement.laps} laps.`],
    empty: 'There is no series with both meters.',
  });
}

/** Agreement over the study, as read and after the correction. */
export function beforeAndAfter({ agreement, confidence }: Result): Finding {
  const rows = [
    {
      name: 'as read',
      mean: agreement.difference_percent,
      limits: agreement.limits_percent,
    },
    {
      name: 'corrected',
      mean: agreement.corrected_difference_percent,
      limits: agreement.corrected_limits_percent,
    },
  ];
  return finding({
    id: 'before-after',
    title: `Candidate − reference over the study; ± is half the ${confidenceWords(confidence)} interval`,
    ...table(rows, [
      [words('Readings'), ({ name }) => name],
      [numbers('value', 'Mean difference', '%'), ({ mean }) => meanOf(mean)],
      ...limitColumns<(typeof rows)[number]>(({ limits }) => limits),
    ]),
    notes: [
      'The corrected laps are the ones that the factors come from, so their mean is near zero by construction: only readings of another day test a factor. What a new reading may be off by is more than the interval of K says: the head is put up anew, and it has a scatter and a display step of its own.',
    ],
    empty: '',
  });
}

/** How each series drifted, and what the order of the runs would have made of it. */
export function drift(result: Result): Finding {
  return finding({
    id: 'drift',
    title: 'Drift of each series',
    ...table(result.series, [
      [words('Series'), ({ id }) => id],
      [words('Drift seen'), ({ drift: one }) => degree(one.evident_degree)],
      [words('Drift allowed for'), ({ drift: one }) => degree(one.degree)],
      [numbers('percent', 'Change per run', '%'), ({ drift: one }) => one.percent_per_run],
      [numbers('percent', 'Interval', '%'), ({ drift: one }) => one.percent_per_run_interval],
      [
        numbers('percent', 'Wander per run', '%'),
        ({ drift: one }) =>
          one.wander_percent_per_run === 0 ? 'none seen' : one.wander_percent_per_run,
      ],
      [
        numbers('percent', 'Order bias of plain laps', '%'),
        ({ drift: one }) => one.order_bias_percent,
      ],
    ]),
    notes: [
      'Taking turns does not cancel a drift: the meter that always comes second is one step later in it. Order bias is what that step puts into a plain mean of lap differences. The factors come from a model with the drift in it and are free of it as far as the drift is that smooth. Wander: standard deviation of the source from run to run, beside the drift.',
    ],
    empty: 'There is no series with both meters.',
  });
}

const DEGREES = ['none', 'straight', 'parabola'];
const degree = (one: number | null): string | null =>
  one === null ? null : (DEGREES[one] ?? `degree ${one}`);

/** What was left out, why, and what difference that makes. */
export function leftOut(result: Result): Finding {
  return finding({
    id: 'left-out',
    title: 'Runs left out of the factors',
    columns: [
      words('Series'),
      words('Runs'),
      words('Kind'),
      words('Reason'),
      numbers('value', 'K with them'),
      numbers('value', 'K without'),
    ],
    rows: result.series.flatMap((series) =>
      grouped(series.excluded).map((group): readonly Cell[] => {
        const [first] = group;
        const effect = series.exclusion_effects.find((one) => one.kind === first.kind);
        return [
          series.id,
          [...group]
            .sort((a, b) => a.run - b.run)
            .map((one) => `${one.run} (${one.meter})`)
            .join(', '),
          EXCLUSION_WORDS[first.kind],
          first.reason,
          effect?.factor_with ?? null,
          effect?.factor_without ?? null,
        ];
      }),
    ),
    notes: ['Runs that are left out here still count where the hazard of a source is judged.'],
    sentences: result.series.flatMap((series) =>
      series.flagged.map((flag) => `Flagged: ${series.id}, ${flag.message}.`),
    ),
    empty: 'No run was left out.',
  });
}

/** Runs of one kind and one reason together; a reason that says another in full is of the same lap. */
function grouped(excluded: readonly Exclusion[]): readonly (readonly Exclusion[])[] {
  const shortest = [...excluded].sort((a, b) => a.reason.length - b.reason.length);
  const own = (one: Exclusion): Exclusion =>
    shortest.find((other) => other.kind === one.kind && one.reason.includes(other.reason)) ?? one;
  const keyOf = ({ kind, reason }: Exclusion) => JSON.stringify([kind, reason]);
  const groups = groupedBy(excluded.map((one) => [keyOf(own(one)), one] as const));
  return [...groups.values()].map((group) =>
    [...group].sort((a, b) => a.reason.length - b.reason.length),
  );
}
