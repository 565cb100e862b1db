/** Settling and lag: what both meters' readings lack, source by source, and what is not known of it. */

import { percent, significant } from '../findings/formatNumber.js';
import { eachMeter, METERS } from '../record/meters.js';
import { fitStepResponse } from '../settle/fitStepResponse.js';
import { LARGEST_TIME_CONSTANT_S, lagDroop } from '../settle/lagDroop.js';
import { COUNTS_AS_SETTLED, missingFraction, timeToSettle } from '../settle/missingFraction.js';
import { extremes } from '../statistics/summary.js';
import type { MeterRole, ReadingKind, Study, Warning } from '../vocabulary.js';
import { fallOf, type Gain, gainAt, gainByTraces, type TracedGains } from './lacking.js';
import { stillRising } from './stillRising.js';
import {
  type FittedTrace,
  type TimeConstants,
  timeConstants,
  timeConstantWarnings,
} from './timeConstants.js';
import { tracesOfKeptRuns } from './traces.js';

/** What settling and lag leave open in the factor of a source. */
export interface SettlingState {
  /** Relative standard uncertainty of the lag on a falling source; `null` where it is not known. */
  readonly lag: number | null;
  /** Relative standard uncertainty of the correction to settled readings; `null` where not known. */
  readonly unsettled: number | null;
  readonly note: string;
  /** What could not be brought to settled readings; empty where nothing is left. */
  readonly missing: readonly string[];
}

export interface SettledSource {
  /** Reading ÷ power of each meter; 1 where it is not known. */
  readonly gain: Readonly<Record<MeterRole, number>>;
  readonly state: SettlingState;
  /** Reading ÷ power as traces tell it, where no reading time does. */
  readonly traced: TracedGains;
}

export interface Settling {
  readonly kind: ReadingKind;
  readonly bySource: ReadonlyMap<string, SettledSource>;
  readonly constants: TimeConstants;
  /** Why the readings of a meter may lie anywhere below the power; `null` where they do not. */
  readonly open: Readonly<Record<MeterRole, string | null>>;
  readonly warnings: readonly Warning[];
}

/** Of less than this part of the power in a reading nobody can tell the whole (own choice). */
export const LEAST_SHOWN = 0.01;
/** A source that would lose this part of its power before the reading is no straight slow fall. */
const MOST_FALL = 0.5;

/** @param study zeroed; traces of runs that were left out can only show that a sensor was not settled */
export function settling(study: Study): Settling {
  const all = study.traces.map((trace) => ({
    trace,
    fit: fitStepResponse(trace, { onset_s: 'fitted', drift: true }),
  }));
  const kept = new Set(tracesOfKeptRuns(study));
  const fits = all.filter(({ trace }) => kept.has(trace));
  const constants = timeConstants(study, fits);
  const { read_at_s: readAt } = study.protocol;
  // A refused trace may say all the same how slow its sensor is.
  const bounds = all.flatMap(({ fit }) =>
    fit.status === 'refused' ? fit.time_constant_bounds_s.map((end) => end ?? 0) : [],
  );
  const slowest = extremes([LARGEST_TIME_CONSTANT_S, ...bounds])[1];
  const sourceOf = new Map(study.series.map((series) => [series.id, series.source]));
  const sources = study.sources.map(({ name }) => ({
    name,
    own: fits.filter(({ trace }) => sourceOf.get(trace.series) === name),
  }));
  const settled = sources.map(({ name, own }) => ({
    name,
    ...(readAt === null
      ? withoutTime(study, own, fits)
      : withTime(readAt, constants, fallOf(own), slowest)),
  }));
  const known = settled.length > 0 && settled.every((one) => one.known);
  return {
    kind: {
      kind: known ? 'settled' : 'as-read',
      read_at_s: readAt,
      candidate_time_constant_s: constants.candidate?.value_s ?? null,
      candidate_time_constant_standard_uncertainty_s:
        constants.candidate?.standard_uncertainty_s ?? null,
      why: kindWords(readAt, constants, known),
    },
    bySource: new Map(settled.map(({ name, source }) => [name, source])),
    constants,
    open: { ...stillRising(all, constants, readAt), ...openBefore(readAt, constants) },
    warnings: [
      ...timeConstantWarnings(study, fits),
      ...earlyWarnings(readAt, constants, known),
      ...untimed(readAt, fits, constants, known),
      ...settled.flatMap(({ name, warning }) =>
        warning === null ? [] : [{ code: 'lag-bounded', message: `${name}: ${warning}` }],
      ),
    ],
  };
}

/** What kind of reading the factors hold for, in words. */
function kindWords(readAt: number | null, constants: TimeConstants, settled: boolean): string {
  const { candidate } = constants;
  // Where readings are settled, it is known.
  if (settled && candidate !== null) {
    return `For settled readings: all were brought there; the candidate needs ${Math.ceil(timeToSettle(COUNTS_AS_SETTLED, candidate.value_s))} s to within 1 %.`;
  }
  return readAt === null
    ? 'For readings as they were taken; when after switch-on is not stated, so what they lack is not known.'
    : `For readings taken ${readAt} s after switch-on; how far the sensors had settled by then is not known.`;
}

/** Meters read so early that their readings say next to nothing of the power. */
const tooEarly = (readAt: number | null, constants: TimeConstants): readonly MeterRole[] =>
  METERS.filter((meter) => {
    const constant = constants[meter];
    if (readAt === null || constant === null) return false;
    return 1 - missingFraction(readAt, constant.value_s) < LEAST_SHOWN;
  });

function openBefore(
  readAt: number | null,
  constants: TimeConstants,
): Partial<Record<MeterRole, string>> {
  const why = (meter: MeterRole) =>
    `at ${readAt} s after switch-on, with its time constant, the ${meter} shows less than ${percent(LEAST_SHOWN)} of the power, and nobody can tell the whole from that. Read later.`;
  return Object.fromEntries(tooEarly(readAt, constants).map((meter) => [meter, why(meter)]));
}

interface Found {
  readonly source: SettledSource;
  /** Whether readings of this source are brought to settled ones. */
  readonly known: boolean;
  readonly warning: string | null;
}

const NO_GAIN = { reference: 1, candidate: 1 };
const NO_TRACED = { reference: null, candidate: null };

/** The reading time is known: time constants say what is missing, traces how the source falls. */
function withTime(
  readAt: number,
  constants: TimeConstants,
  fall: ReturnType<typeof fallOf>,
  slowest_s: number,
): Found {
  const { reference, candidate } = constants;
  const falls = fall !== null && Math.abs(fall.value) * readAt < MOST_FALL ? fall.value : 0;
  const early = tooEarly(readAt, constants);
  const gains: Gains | null =
    reference === null || candidate === null || early.length > 0
      ? null
      : {
          reference: gainAt(readAt, reference, falls),
          candidate: gainAt(readAt, candidate, falls),
        };
  const lag =
    fall === null
      ? null
      : lagDroop({
          relativeDroop_per_s: fall.value,
          relativeDroopStandardUncertainty_per_s: fall.standardUncertainty,
          timeConstantReference_s: reference?.value_s ?? null,
          timeConstantCandidate_s: candidate?.value_s ?? null,
          largestTimeConstant_s: slowest_s,
          timeConstantReferenceStandardUncertainty_s: reference?.standard_uncertainty_s ?? 0,
          timeConstantCandidateStandardUncertainty_s: candidate?.standard_uncertainty_s ?? 0,
        });
  return {
    source: {
      gain: gains === null ? NO_GAIN : onlyValues(gains),
      state: {
        lag: lag?.relative_standard_uncertainty ?? null,
        unsettled: unsettledOf(gains),
        note: lag?.why ?? '',
        missing: [
          ...(gains === null ? [notSettled(constants, early)] : []),
          ...(lag === null && reference !== null && candidate !== null
            ? [lagNotSeen(Math.abs(candidate.value_s - reference.value_s))]
            : []),
        ],
      },
      traced: NO_TRACED,
    },
    known: gains !== null,
    warning: lag?.status === 'bounded' ? lag.why : null,
  };
}

/** Nobody wrote the reading time down: only runs that have a trace tell what a reading lacks. */
function withoutTime(
  study: Study,
  own: readonly FittedTrace[],
  all: readonly FittedTrace[],
): Found {
  const by = (fits: readonly FittedTrace[]) =>
    eachMeter((meter) => gainByTraces(study, meter, fits));
  const here = by(own);
  const traced = here.reference === null || here.candidate === null ? by(all) : here;
  const { reference, candidate } = traced;
  const gains = reference === null || candidate === null ? null : { reference, candidate };
  return {
    source: {
      gain: gains === null ? NO_GAIN : onlyValues(gains),
      state: {
        lag: null,
        unsettled: unsettledOf(gains),
        note: '',
        missing: gains === null ? [NO_TIME] : [],
      },
      traced,
    },
    known: gains !== null,
    warning: null,
  };
}

const NO_TIME =
  'settling and lag of the sensors: the reading time is not stated (protocol.read_at_s), and there is no trace of both meters that would tell what the readings lack';

type Gains = Readonly<Record<MeterRole, Gain>>;

const unsettledOf = (gains: Gains | null): number | null =>
  gains === null
    ? null
    : Math.hypot(gains.reference.standardUncertainty, gains.candidate.standardUncertainty);

const onlyValues = (gains: Gains) => eachMeter((meter) => gains[meter].value);

function notSettled(constants: TimeConstants, early: readonly MeterRole[]): string {
  if (early.length > 0) {
    return `settling and lag of the sensors: the ${early.join(' and the ')} had shown less than ${percent(LEAST_SHOWN)} of the power at the reading time`;
  }
  const unknown = METERS.filter((meter) => constants[meter] === null);
  return `settling and lag of the sensors: the time constant of the ${unknown.join(' and of the ')} is not known (a trace would tell)`;
}

/** @param apart the two time constants, s */
function lagNotSeen(apart: number): string {
  return `lag of the sensors on a falling source: no trace shows how the source changes while it is on; each 0.1 % per s would be ${percent(0.001 * apart)}`;
}

/** A meter read too early: by how much, and how long to wait. */
function earlyWarnings(readAt: number | null, constants: TimeConstants, known: boolean): Warning[] {
  if (readAt === null) return [];
  const early = tooEarly(readAt, constants).length > 0;
  return METERS.flatMap((meter) => {
    const constant = constants[meter];
    if (constant === null) return [];
    const missing = missingFraction(readAt, constant.value_s);
    if (missing <= COUNTS_AS_SETTLED) return [];
    const wait = Math.ceil(timeToSettle(COUNTS_AS_SETTLED, constant.value_s));
    const then = known
      ? 'All readings are brought to settled ones, so the factor holds for settled readings:'
      : early
        ? 'Too little to tell the whole from it, so the factor is not corrected for that:'
        : 'The factor is not corrected for that, because the other time constant is not known:';
    return [
      {
        code: 'read-too-early',
        message: `The ${meter} (time constant ${significant(constant.value_s, 2)} s) still lacks ${percent(missing)} at the reading time of ${readAt} s. ${then} wait ${wait} s for 1 %.`,
      },
    ];
  });
}

/** Traces or stated time constants without a reading time: what was done instead. */
function untimed(
  readAt: number | null,
  fits: readonly FittedTrace[],
  constants: TimeConstants,
  known: boolean,
): Warning[] {
  if (readAt !== null) return [];
  const stated = METERS.filter((meter) => constants[meter] !== null);
  if (fits.length === 0 && stated.length > 0) {
    return [
      {
        code: 'reading-time-not-stated',
        message: `study.json says how fast the sensor of the ${stated.join(' and of the ')} settles, but not when the readings were taken after switch-on (protocol.read_at_s): they count as settled, and nothing is corrected for settling or lag.`,
      },
    ];
  }
  if (fits.length === 0) return [];
  return [
    {
      code: 'reading-time-not-stated',
      message: `study.json does not say when the readings were taken after switch-on (protocol.read_at_s). ${
        known
          ? 'What they lack is taken from the runs that have a trace: their readings against the power that the traces lead to.'
          : 'The traces do not tell for both meters what the readings lack, so nothing is corrected for settling or lag.'
      }`,
    },
  ];
}
