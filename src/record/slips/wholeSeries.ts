/** Slips that run through a whole series, seen beside the other series. */
import { median } from 'simple-statistics';
import type { MeterRole, Series, SlipKind, Study } from '../../vocabulary.js';
import { METERS } from '../meters.js';
import type { Entry } from './entries.js';
import { finerBy } from './finerThanDisplay.js';
import { kindOfMove } from './typedNumber.js';

/** A comparison series as its mended entries show it. */
export interface SeriesLevel {
  readonly series: Series;
  /** ln K over the laps, and its standard error. */
  readonly k: number;
  readonly error: number;
  /** ln of the median reading. */
  readonly level: Readonly<Record<MeterRole, number>>;
}

export interface WholeSlip {
  readonly series: Series;
  readonly kind: SlipKind;
  /** The meter whose entries are all off; `both` when they are exchanged. */
  readonly meter: MeterRole | 'both';
  /** Places by which the decimal point has to move; `null` where no slip explains it. */
  readonly move: number | null;
  /** For an exchange that lies in one of two parts of the study: the series of the other part. */
  readonly or: readonly string[];
  /** For readings finer than the display of their meter: its stated step. */
  readonly step_mW?: number | null;
}

/** No pair of meters for the same power differs by more. */
const ABSURD = Math.log(30);
/** Beside other series so much is absurd as well. */
const ABSURD_BESIDE = Math.log(5);
/** How far factors lie apart from colour to colour, once the point is moved. */
const COLOURS = Math.log(2.1);
/** Below, a series and its mirror image are too much alike. */
const CLEAR = 2 * Math.log(1.06);
/** Series at one wavelength agree this well, or within four standard errors. */
const AGREE = 0.03;
/** Within this a source is at the same power as before. */
const ONE_POWER = Math.log(3);
const DECADE = Math.log(10);

export function seriesLevel(
  series: Series,
  entries: readonly Entry[],
  mended: readonly (number | null)[],
): SeriesLevel | null {
  if (series.kind !== 'comparison') return null;
  const of = (meter: MeterRole) =>
    entries.flatMap(({ run }, i) => (run.meter === meter ? (mended[i] ?? []) : []));
  const reference = of('reference');
  const candidate = of('candidate');
  if (reference.length === 0 || candidate.length === 0) return null;
  const laps = new Map<number, Partial<Record<MeterRole, number>>>();
  entries.forEach(({ run }, i) => {
    const y = mended[i];
    if (run.lap === null || y === null || y === undefined) return;
    laps.set(run.lap, { ...laps.get(run.lap), [run.meter]: y });
  });
  const ratios = [...laps.values()].flatMap((lap) =>
    lap.reference === undefined || lap.candidate === undefined
      ? []
      : [lap.reference - lap.candidate],
  );
  const level = { reference: median(reference), candidate: median(candidate) };
  const k = ratios.length > 0 ? median(ratios) : level.reference - level.candidate;
  const spread = 1.4826 * median([0, ...ratios.map((ratio) => Math.abs(ratio - k))]);
  return { series, k, error: (1.25 * spread) / Math.sqrt(Math.max(1, ratios.length)), level };
}

/** At most one slip a series. */
export function wholeSlips(study: Study, levels: readonly SeriesLevel[]): WholeSlip[] {
  const scaled = levels.flatMap((one) => scaleSlip(study, one, levels));
  const sound = levels.filter(({ series }) => !scaled.some((slip) => slip.series === series));
  const exchanged = sound.flatMap((one) => exchange(study, one, sound));
  // Where one of two is named for certain, the other is what it was judged by.
  const named = exchanged.filter(({ or }) => or.length === 0).map(({ series }) => series.id);
  return [...scaled, ...exchanged.filter(({ or }) => !or.some((id) => named.includes(id)))];
}

/** One meter of the series off by powers of ten. */
function scaleSlip(study: Study, one: SeriesLevel, levels: readonly SeriesLevel[]): WholeSlip[] {
  const others = levels.filter((other) => other !== one && Math.abs(other.k) <= ABSURD);
  const usual = others.length > 0 ? median(others.map((other) => other.k)) : 0;
  const off = one.k - usual;
  const absurd = Math.abs(one.k) > ABSURD || (others.length > 0 && Math.abs(off) > ABSURD_BESIDE);
  if (!absurd) return [];
  // Two against one: a series that is right beside one that is not must not be blamed for it.
  const rivals = others.filter((other) => Math.abs(other.k) > ABSURD_BESIDE).length;
  if (Math.abs(one.k) <= ABSURD_BESIDE && rivals > 0) return [];
  const places = Math.round(off / DECADE);
  const explained =
    Math.abs(places) <= 3 && places !== 0 && Math.abs(off - places * DECADE) < COLOURS;
  const meter = wrongMeter(study, one, places, others);
  if (!mayBeSlip(one.series, meter)) return [];
  const up = meter === 'candidate' ? places : -places;
  const kind = explained ? kindOfMove(places) : 'other';
  return [{ series: one.series, kind, meter, move: explained ? up : null, or: [] }];
}

/**
 * Which of two meters is off, if one is: the one that shows more than its rating, or finer steps than
 * it has, or another power of the same source than before. Else the one that shows less: watts typed
 * as milliwatts are the common slip, and the hazard is then not made to look smaller.
 */
function wrongMeter(
  study: Study,
  { series, k, level }: SeriesLevel,
  places: number,
  others: readonly SeriesLevel[],
): MeterRole {
  const [high, low]: [MeterRole, MeterRole] =
    k > 0 ? ['reference', 'candidate'] : ['candidate', 'reference'];
  const rated = study[high].rated_max_mW;
  if (rated !== null && Math.exp(level[high]) > rated) return high;
  if (finerBy(study, series, low) > 0) return low;
  const before = others.filter((other) => other.series.source === series.source);
  const moved = (meter: MeterRole) =>
    Math.min(...before.map((other) => Math.abs(other.level[meter] - level[meter])));
  const jump = Math.abs(places) * DECADE;
  const jumped = Math.abs(moved(high) - jump) < ONE_POWER && moved(low) < ONE_POWER;
  return before.length > 0 && jumped ? high : low;
}

/** Both meters exchanged, beside series of the same wavelength and filter. */
function exchange(study: Study, one: SeriesLevel, levels: readonly SeriesLevel[]): WholeSlip[] {
  const { wavelength_nm, filter } = one.series;
  const peers = levels.filter(
    ({ series }) => series.wavelength_nm === wavelength_nm && series.filter === filter,
  );
  const agrees = (a: SeriesLevel, k: number) => {
    const error = Math.hypot(a.error, one.error);
    return Math.abs(a.k - k) <= Math.min(Math.max(AGREE, 4 * error), Math.abs(one.k) / 2);
  };
  if (2 * Math.abs(one.k) < CLEAR || !mayBeSlip(one.series, 'both')) return [];
  const same = peers.filter((peer) => agrees(peer, one.k));
  const mirrored = peers.filter((peer) => agrees(peer, -one.k));
  const result = (or: readonly SeriesLevel[]): WholeSlip[] => [
    {
      series: one.series,
      kind: 'exchanged',
      meter: 'both',
      move: or.length > 0 ? null : 0,
      or: or.map(({ series }) => series.id),
    },
  ];
  if (mirrored.length === 0 || mirrored.length < same.length) return [];
  if (mirrored.length > same.length) return result([]);
  // As many on either side: the steps of the displays may tell.
  const odd = (list: readonly SeriesLevel[]) =>
    list.some(({ series }) => METERS.some((meter) => finerBy(study, series, meter) > 0));
  if (odd(same) === odd(mirrored)) return result(mirrored);
  return odd(same) ? result([]) : [];
}

/** An entry that was compared with the display again contradicts a slip of the whole. */
function mayBeSlip(series: Series, meter: MeterRole | 'both'): boolean {
  return !series.runs.some((run) => run.checked && (meter === 'both' || run.meter === meter));
}
