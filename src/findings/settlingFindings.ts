/** What the traces of a study say of its sensors and of its sources, in sentences. */

import { MeterpairError, nullIfTooFew } from '../error.js';
import { tracesOfKeptRuns, zeroedTraces } from '../readings/traces.js';
import { METERS } from '../record/meters.js';
import { combineTimeConstants } from '../settle/combineTimeConstants.js';
import { fitStepResponse } from '../settle/fitStepResponse.js';
import { missingFraction, timeToSettle } from '../settle/missingFraction.js';
import { type Stability, stability } from '../settle/stability.js';
import type { StepResponse } from '../settle/stepResponse.js';
import { coverageFactor } from '../statistics/distributions.js';
import type { MeterRole, Opinion, Study, Trace } from '../vocabulary.js';
import { counted, formatNumber, percent } from './formatNumber.js';
import { formatUncertain } from './formatUncertain.js';

export interface SettlingWishes {
  /** What may be missing from a reading once it is taken, as a fraction (0.01 for 1 %). */
  readonly mayLack: number;
  /** How near to its mean a source has to stay to count as warm, as a fraction. */
  readonly within: number;
  /** Over how many seconds the power is averaged; `null`: from the settled sensor to the end. */
  readonly over_s: number | null;
}

/** One paragraph of the answer: a heading, and its sentences. */
export interface SettlingFinding {
  readonly title: string;
  readonly sentences: readonly string[];
}

/**
 * Time constants, waiting times, and how steady each source is while it is on.
 *
 * @throws no-rows for a study without a trace; argument-wrong for a part that is none
 */
export function settlingFindings(study: Study, wishes: SettlingWishes): readonly SettlingFinding[] {
  const { confidence } = study;
  const fits = traceFits(study);
  const kept = fits.map(({ trace }) => trace);
  const meters = timeConstants(fits);
  const most = meters.map(({ meter, of }) => ({ meter, most_s: mostOf(of, confidence) }));
  const waits = meters.map(({ meter, of }) =>
    meterSentence(meter, of, { ...wishes, read_at_s: study.protocol.read_at_s, confidence }),
  );
  const unknown = most.flatMap(({ meter, most_s }) => (most_s === null ? meter : []));
  const slowest = Math.max(
    0,
    ...most.flatMap(({ most_s }) => (most_s === null ? [] : timeToSettle(wishes.mayLack, most_s))),
  );
  const together =
    unknown.length === 0
      ? `Read both meters no earlier than ${Math.ceil(slowest)} s after switch-on.`
      : `From when on both meters may be read cannot be said: the time constant of the ${unknown.join(' and of the ')} is not known.`;
  const refused = fits.flatMap(({ trace, fit }) =>
    fit.status === 'fitted' ? [] : [`${placeOf(trace)} gave no time constant: ${fit.why}`],
  );
  const doubts = study.warnings.flatMap(({ code, series, message }) =>
    code.startsWith('trace-') ? [`Series "${series}": ${message}`] : [],
  );
  return [
    { title: 'The sensors', sentences: [...waits, together, ...refused, ...doubts] },
    ...study.sources.flatMap(({ name }) => {
      const own = kept.filter((trace) => sourceOf(study, trace) === name);
      return own.length === 0
        ? []
        : [{ title: name, sentences: sourceSentences(study, name, own, slowest, wishes) }];
    }),
  ];
}

/** A trace and what its rise says of the sensor. */
export interface TraceFit {
  readonly trace: Trace;
  readonly fit: StepResponse;
}

/**
 * The traces of the runs that are kept, their zero taken off, each with its step response.
 *
 * @throws no-rows for a study without a trace
 */
export function traceFits(study: Study): readonly TraceFit[] {
  if (study.traces.length === 0) {
    throw new MeterpairError({
      code: 'no-rows',
      file: 'traces.csv',
      message: 'This study has no trace, and only a trace tells how a sensor settles.',
      expected: 'traces.csv with the columns run, meter, elapsed_s and reading_mW',
    });
  }
  const { confidence } = study;
  return tracesOfKeptRuns({ ...study, traces: zeroedTraces(study) }).map((trace) => ({
    trace,
    fit: fitStepResponse(trace, { onset_s: 'fitted', drift: true, confidence }),
  }));
}

/** One time constant a meter, from all of its traces. */
export function timeConstants(fits: readonly TraceFit[]) {
  return METERS.map((meter) => {
    const own = fits.filter(({ trace }) => trace.meter === meter);
    return { meter, of: combineTimeConstants(own.map(({ fit }) => fit)) };
  });
}

const placeOf = ({ series, run, meter }: Trace) => `Series "${series}", run ${run} (${meter})`;

const sourceOf = (study: Study, trace: Trace) =>
  study.series.find(({ id }) => id === trace.series)?.source;

type Combined = ReturnType<typeof combineTimeConstants>;

/** A time constant at its upper end, since a sensor that is waited for may be that slow; `null`: not known. */
function mostOf(
  { value_s, standard_uncertainty_s: u, dof }: Combined,
  confidence: number,
): number | null {
  return value_s === null || u === null || dof === null
    ? null
    : value_s + coverageFactor(confidence, dof) * u;
}

function meterSentence(
  meter: MeterRole,
  found: Combined,
  {
    mayLack,
    read_at_s,
    confidence,
  }: SettlingWishes & { read_at_s: number | null; confidence: number },
): string {
  const { value_s: tau, standard_uncertainty_s: u, dof, traces } = found;
  const most_s = mostOf(found, confidence);
  if (tau === null || u === null || dof === null || most_s === null) {
    return `The ${meter}: its time constant is not known. ${found.why}`;
  }
  const k = coverageFactor(confidence, dof);
  const wait = Math.ceil(timeToSettle(mayLack, most_s));
  const now =
    read_at_s === null
      ? 'When the readings were taken is not stated (protocol.read_at_s).'
      : `At the ${formatNumber(read_at_s)} s of the protocol up to ${percent(missingFraction(read_at_s, most_s))} is missing.`;
  return `The ${meter}: time constant ${formatUncertain(tau, k * u, { unit: 's' })}, k = ${formatNumber(k, { digits: 3 })}, from ${counted(traces, 'trace', 'traces')}; ${wait} s after switch-on at most ${percent(mayLack)} is missing. ${now}`;
}

/** Of each meter the longest trace of the source. */
function sourceSentences(
  study: Study,
  source: string,
  traces: readonly Trace[],
  settled_s: number,
  wishes: SettlingWishes,
): readonly string[] {
  const longest = METERS.flatMap((meter) => {
    const own = traces.filter((trace) => trace.meter === meter);
    const length = ({ elapsed_s }: Trace) => elapsed_s.at(-1) ?? 0;
    return own.length === 0 ? [] : [own.reduce((a, b) => (length(b) > length(a) ? b : a))];
  });
  const stated = study.opinions.filter(
    (one) => one.source === source && one.averaged_over_s !== undefined,
  );
  return longest.flatMap((trace) => [
    steadiness(trace, settled_s, wishes),
    ...stated.map((opinion) => againstAverage(trace, opinion)),
  ]);
}

function steadiness(trace: Trace, settled_s: number, wishes: SettlingWishes): string {
  const { over_s, within } = wishes;
  const length = (trace.elapsed_s.at(-1) ?? 0) - settled_s;
  const found =
    over_s !== null && over_s > length
      ? null
      : nullIfTooFew(() =>
          stability(trace, { from_s: settled_s, within, ...(over_s === null ? {} : { over_s }) }),
        );
  if (found === null) {
    return `${placeOf(trace)} is too short to say how steady the source is: ${formatNumber(Math.max(0, length))} s are left once the sensor has settled.`;
  }
  return `${placeOf(trace)}: highest ${mW(found.peak_mW)} at ${formatNumber(found.peak_at_s)} s; mean ${mW(found.mean_mW)} over ${formatNumber(found.from_s)} to ${formatNumber(found.to_s)} s; relative fluctuation 2 s/P̄ = ${percent(found.relative_fluctuation)}; ${warmWords(found, within)}.`;
}

const warmWords = ({ warm_at_s }: Stability, within: number) =>
  warm_at_s === null
    ? `it does not stay within ${percent(within)} of that mean`
    : `within ${percent(within)} of that mean from ${formatNumber(warm_at_s)} s on`;

/** The mean of a trace over the time that a value from elsewhere was averaged over, from switch-on. */
function againstAverage(trace: Trace, { kind, value_mW, averaged_over_s = 0 }: Opinion): string {
  const stated = `${mW(value_mW)} as an average over ${formatNumber(averaged_over_s)} s (${kind})`;
  const length = trace.elapsed_s.at(-1) ?? 0;
  if (length < averaged_over_s) {
    return `Stated elsewhere: ${stated}; this trace is only ${formatNumber(length)} s long.`;
  }
  const upTo = trace.elapsed_s.filter((time) => time <= averaged_over_s).length;
  const part = {
    elapsed_s: trace.elapsed_s.slice(0, upTo),
    reading_mW: trace.reading_mW.slice(0, upTo),
  };
  const found = nullIfTooFew(() => stability(part));
  return found === null
    ? `Stated elsewhere: ${stated}; this trace has too few readings in that time.`
    : `Stated elsewhere: ${stated}; this ${trace.meter} shows ${mW(found.mean_mW)} over as long from switch-on, not corrected.`;
}

const mW = (value: number) => formatNumber(value, { digits: 4, unit: 'mW', keepZeros: true });
