import { argumentWrong } from '../error.js';
import { percent, significant } from '../findings/formatNumber.js';
import { eachMeter, METERS } from '../record/meters.js';
import { COUNTS_AS_SETTLED, missingFraction, timeToSettle } from '../settle/missingFraction.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import { LEAST_LAPS, type MeterRole, type RunOrder } from '../vocabulary.js';
import type { ComparisonWishes } from './comparisonWishes.js';
import { completeWishes } from './comparisonWishes.js';
import type { PlacementWord } from './placement.js';
import { type ComparisonPlan, planComparison } from './planComparison.js';
import { plannedShares } from './plannedShares.js';
import type { SizeOfDesign } from './plannedSpread.js';
import { resolutionNote } from './resolutionNote.js';
import { RUN_ORDERS, wholeBlocks } from './runOrder.js';
import { requireWavelengths, runSheet } from './runSheet.js';
import { runSheetText } from './runSheetText.js';

/** A source that is to be measured. */
export interface PlannedSource {
  readonly name: string;
  readonly wavelength_nm: number;
  /** Power that is expected, mW; `null`: not said. */
  readonly power_mW: number | null;
  readonly beam_diameter_mm: number | null;
}

/** A meter of the plan; what is `null` is not said. */
export interface PlannedMeter {
  readonly name: string;
  readonly resolution_mW: number | null;
  readonly rated_max_mW: number | null;
  /** Relative standard deviation of one reading, display and source aside. */
  readonly noise: number;
}

export interface StudyWishes {
  readonly title: string;
  readonly meters: Readonly<Record<MeterRole, PlannedMeter>>;
  readonly sources: readonly PlannedSource[];
  readonly certificate: NonNullable<ComparisonWishes['certificate']> | null;
  /** How far a corrected reading may be off, as a fraction. */
  readonly tolerance: number;
  /** Wanted relative U of a corrected reading. */
  readonly wanted: number;
  readonly confidence: number;
  /** Relative standard deviation of a source from run to run, drift taken out. */
  readonly source_noise: number;
  readonly placement: number | PlacementWord | null;
  readonly order: RunOrder;
  readonly most_series: number;
  readonly most_laps: number;
  /** Time constant of the slower meter, s; `null`: not known. */
  readonly slower_time_constant_s: number | null;
  /** When each reading is taken, s after switch-on; `null`: five time constants. */
  readonly read_at_s: number | null;
  /** Longest time a head may be lit at these powers, and the rest it needs then, s. */
  readonly on_time_s: number | null;
  readonly rest_s: number;
}

/** A plan, ready to be written down. */
export interface StudyPlan {
  /** What is wanted at each source, in their order. */
  readonly comparisons: readonly ComparisonWishes[];
  /** Of each source by itself, in their order. */
  readonly plans: readonly ComparisonPlan[];
  /** What all of them get: the largest design that one of them needs. */
  readonly size: SizeOfDesign;
  /** Content of study.json. */
  readonly study: Readonly<Record<string, unknown>>;
  /** Text of runs.csv: every run in its order, without readings. */
  readonly runs: string;
  /** Markdown of the sheet to print. */
  readonly sheet: string;
  /** What to expect, what it is made of, and what to mind, in sentences. */
  readonly sentences: readonly string[];
}

/**
 * A study to fill in: how many series of how many laps, in which order, when to read, and what U will come of
 * it. Every source is planned by itself, because displays count more at low power; all get the largest design
 * that one of them needs, a source that no design serves aside.
 *
 * @throws argument-wrong for wishes that mean nothing
 * @see docs/methods/planning.md
 */
export function planStudy(wishes: StudyWishes): StudyPlan {
  requireShape(wishes, 'A plan', WISHES);
  requireWishes(wishes);
  const comparisons = wishes.sources.map((source) => comparisonOf(wishes, source));
  const plans = comparisons.map(planComparison);
  const size = sizeForAll(plans, wishes.order);
  const read_at_s = readingTime(wishes);
  const sheet = {
    title: wishes.title,
    sources: wishes.sources.map(({ name, wavelength_nm }) => ({ name, wavelength_nm })),
    laps: size.laps,
    order: wishes.order,
    seriesPerSource: size.series,
  };
  const tau = wishes.slower_time_constant_s;
  return {
    comparisons,
    plans,
    size,
    study: studyOf(wishes, plans[0], read_at_s),
    runs: runSheet(sheet),
    sheet: runSheetText({
      ...sheet,
      ...(tau === null ? {} : { slowerTimeConstant_s: tau }),
      ...(wishes.read_at_s === null ? {} : { readAt_s: wishes.read_at_s }),
    }),
    sentences: [
      ...wishes.sources.map(
        ({ name }, i) =>
          `${name}: ${plans[i].sentence} ${sharesSentence(comparisons[i], plans[i].design ?? size)}`,
      ),
      ...(wishes.sources.length === 1 ? [] : [sizeSentence(size)]),
      ...new Set(plans.flatMap(({ assumed }) => assumed)),
      ...timeSentences(wishes, size, read_at_s),
      ...wishes.sources.flatMap((source) => sourceSentences(wishes, source)),
    ],
  };
}

const METER: Shape = {
  fields: {
    name: 'text',
    resolution_mW: { orNull: 'number' },
    rated_max_mW: { orNull: 'number' },
    noise: 'not-negative',
  },
};

const WISHES: Shape = {
  fields: {
    title: 'text',
    meters: { fields: { reference: METER, candidate: METER } },
    sources: {
      list: {
        fields: {
          name: 'text',
          wavelength_nm: 'number',
          power_mW: { orNull: 'number' },
          beam_diameter_mm: { orNull: 'number' },
        },
      },
    },
    certificate: {
      orNull: { fields: { expanded_uncertainty: 'number', coverage_factor: 'number' } },
    },
    tolerance: 'number',
    wanted: 'number',
    confidence: 'number',
    source_noise: 'not-negative',
    order: RUN_ORDERS,
    slower_time_constant_s: { orNull: 'above-zero' },
    read_at_s: { orNull: 'above-zero' },
    on_time_s: { orNull: 'number' },
    rest_s: 'not-negative',
  },
};

/** What a plan can be asked for at all, before hundreds of designs are tried. */
function requireWishes({ sources, tolerance }: StudyWishes): void {
  if (sources.length === 0) throw argumentWrong('A plan needs at least one source.');
  requireWavelengths(sources);
  if (!(tolerance > 0 && tolerance < 1)) {
    throw argumentWrong('A tolerance must be a fraction.', tolerance, '0.05 for 5 %');
  }
}

/** The largest of the designs that serve; where none does, what any series has at the least. */
function sizeForAll(plans: readonly ComparisonPlan[], order: RunOrder): SizeOfDesign {
  const designs = plans.flatMap(({ design }) => design ?? []);
  return {
    series: Math.max(1, ...designs.map((one) => one.series)),
    laps: Math.max(wholeBlocks(order, LEAST_LAPS), ...designs.map((one) => one.laps)),
  };
}

const sizeSentence = ({ series, laps }: SizeOfDesign) =>
  `The sheet has ${series} series of ${laps} laps for each source: the most that one of them needs.`;

function comparisonOf(wishes: StudyWishes, { power_mW }: PlannedSource): ComparisonWishes {
  const { meters, certificate, placement } = wishes;
  return {
    wanted: wishes.wanted,
    confidence: wishes.confidence,
    noise: { reference: meters.reference.noise, candidate: meters.candidate.noise },
    source_noise: wishes.source_noise,
    order: wishes.order,
    most_series: wishes.most_series,
    most_laps: wishes.most_laps,
    ...(certificate === null ? {} : { certificate }),
    ...(placement === null ? {} : { placement }),
    ...(power_mW === null
      ? {}
      : {
          display: {
            level_mW: power_mW,
            step_mW: eachMeter((meter) => meters[meter].resolution_mW),
          },
        }),
  };
}

/** Five time constants of the slower meter leave 0.7 %. */
function readingTime({ read_at_s, slower_time_constant_s: tau }: StudyWishes): number | null {
  return read_at_s ?? (tau === null ? null : Math.ceil(5 * tau));
}

function studyOf(
  wishes: StudyWishes,
  plan: ComparisonPlan,
  read_at_s: number | null,
): Readonly<Record<string, unknown>> {
  const { meters, certificate, tolerance, confidence } = wishes;
  const meter = ({ name, resolution_mW, rated_max_mW }: PlannedMeter) =>
    known({ name, resolution_mW, rated_max_mW });
  const { protocol, ...between } = plan.study;
  return {
    title: wishes.title,
    reference: {
      ...meter(meters.reference),
      ...(certificate === null
        ? {}
        : {
            expanded_uncertainty_percent: tidy(100 * certificate.expanded_uncertainty),
            coverage_factor: certificate.coverage_factor,
          }),
    },
    candidate: meter(meters.candidate),
    sources: wishes.sources.map(({ name, wavelength_nm, beam_diameter_mm }) =>
      known({ name, wavelength_nm, beam_diameter_mm }),
    ),
    protocol: { ...protocol, ...known({ read_at_s }) },
    tolerance_percent: tidy(100 * tolerance),
    confidence,
    ...between,
  };
}

/** Without the fields that are not said. */
function known(fields: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null));
}

/** 0.07 × 100 is 7.000000000000001 in binary. */
const tidy = (value: number) => Number(value.toPrecision(6));

function sharesSentence(wishes: ComparisonWishes, size: SizeOfDesign): string {
  const shares = plannedShares(completeWishes(wishes), size).filter(({ share }) => share >= 0.01);
  const parts = shares.map(({ name, share }) => `${name} ${percent(share)}`);
  return `The variance of such a reading is made of ${parts.join(', ')}.`;
}

function timeSentences(
  wishes: StudyWishes,
  { series, laps }: SizeOfDesign,
  read_at_s: number | null,
): readonly string[] {
  const { on_time_s, rest_s, sources, slower_time_constant_s: tau } = wishes;
  if (read_at_s === null) {
    return [
      'When to read is not said, and no time constant either: read both meters at the same moment, at least five time constants of the slower one after switch-on, and state it as protocol.read_at_s.',
    ];
  }
  const runs = 2 * laps * series * sources.length;
  const minutes = Math.ceil((runs * (read_at_s + rest_s)) / 60);
  const lit =
    on_time_s !== null && read_at_s > on_time_s
      ? `A head may be lit for ${significant(on_time_s, 3)} s only, and the reading is due after ${significant(read_at_s, 3)} s: read earlier with known time constants, or lower the power.`
      : `Each head is lit for ${significant(read_at_s, 3)} s and rests for ${significant(rest_s, 3)} s or more.`;
  const missing = tau === null ? 0 : missingFraction(read_at_s, tau);
  const early =
    tau === null || missing <= COUNTS_AS_SETTLED
      ? []
      : [
          `At ${significant(read_at_s, 3)} s the slower meter still lacks ${percent(missing)} (time constant ${significant(tau, 3)} s): from ${Math.ceil(timeToSettle(COUNTS_AS_SETTLED, tau))} s on it lacks less than ${percent(COUNTS_AS_SETTLED)}.`,
        ];
  return [
    `Read ${significant(read_at_s, 3)} s after switch-on. ${lit}`,
    ...early,
    `${runs} runs of ${significant(read_at_s + rest_s, 3)} s take about ${minutes} minutes, warming up and putting up heads aside.`,
  ];
}

function sourceSentences(wishes: StudyWishes, source: PlannedSource): readonly string[] {
  const { name, power_mW: power, beam_diameter_mm: beam } = source;
  const { meters, tolerance } = wishes;
  if (power === null) {
    return [`${name}: its power is not said, so neither displays nor ratings were looked at.`];
  }
  const rated = METERS.flatMap((role) => {
    const most = meters[role].rated_max_mW;
    return most !== null && power > most
      ? [
          `${name}: ${mW(power)} is above the ${mW(most)} that the ${role} is rated for. Do not measure it there.`,
        ]
      : [];
  });
  const density =
    beam === null
      ? []
      : [
          `${name}: ${mW(power)} in ${significant(beam, 3)} mm is ${significant(densityOf(power, beam), 2)} W/cm² on average, and twice that in the middle of a Gaussian beam: hold it against what the coating of each head stands.`,
        ];
  const steps = METERS.flatMap((role) => meters[role].resolution_mW ?? []);
  const smallest = Math.max(
    0,
    ...steps.map((resolution_mW) => resolutionNote({ resolution_mW, tolerance }).smallest_mW),
  );
  return [...rated, ...density, ...levelSentence(name, power, smallest)];
}

/** W/cm² from mW and mm. */
const densityOf = (power_mW: number, diameter_mm: number) =>
  power_mW / 1000 / ((Math.PI / 4) * (diameter_mm / 10) ** 2);

/** Powers this many times apart make three levels worth while. */
const WIDE = 6;

function levelSentence(name: string, power: number, smallest: number): readonly string[] {
  if (smallest > power) {
    return [
      `${name}: at ${mW(power)} the display steps take up more than a fifth of the tolerance; from ${mW(smallest)} on they do not.`,
    ];
  }
  if (smallest === 0 || power < WIDE * smallest) return [];
  const middle = Math.sqrt(power * smallest);
  return [
    `${name}: if its power can be turned down, take a series each at about ${mW(smallest)}, ${mW(middle)} and ${mW(power)} (at least ${LEAST_LAPS} laps each): K may change with the power, and holds only about the powers that were measured.`,
  ];
}

const mW = (value: number) => `${significant(value, 2)} mW`;
