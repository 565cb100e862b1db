/** Invented studies with at most one slip of the pen, typed as text and read as any other. */

import { firstMeter } from '../../src/record/laps.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import type { Random } from '../../src/statistics/random.js';
import type { MeterRole, RunOrder, Study, Suspect } from '../../src/vocabulary.js';

export type SlipCase =
  | 'clean'
  | 'unstable'
  | 'hopping'
  | 'decimal place'
  | 'decimal place, peak'
  | 'decimal place, zero'
  | 'unit, one entry'
  | 'unit, whole meter'
  | 'digits'
  | 'lap exchanged'
  | 'row twice'
  | 'series exchanged';

/** One run as typed. */
interface Typed {
  readonly meter: MeterRole;
  reading: string;
  peak: string;
  zero: string;
  readonly time: number;
}

interface TypedSeries {
  readonly id: string;
  readonly nm: number;
  readonly runs: Typed[];
  /** Relative standard deviation of a single reading, the display's step included. */
  readonly sd: number;
}

/** What was done to the study, and what would be right to say of it. */
export interface Slip {
  readonly rows: readonly number[];
  readonly kind: Suspect['kind'];
  /** In mW; `null` where no value is asked for. */
  readonly likely: number | null;
  readonly quantity: 'reading' | 'peak' | 'zero';
  /** Size of the slip in standard deviations of a reading. */
  readonly sigmas: number;
  /** Whether it is in the first run of a series. */
  readonly first: boolean;
}

export interface SlipStudy {
  readonly study: Study;
  readonly slip: Slip | null;
}

const ORDERS: readonly RunOrder[] = ['reference-first', 'candidate-first', 'ABBA', 'ABBA-BAAB'];
const METERS = ['reference', 'candidate'] as const;
const WAVELENGTHS = [405, 450, 520, 638];

const pick = <T>(random: Random, list: readonly T[]): T =>
  list[random.integer(0, list.length - 1)]!;
const between = (random: Random, low: number, high: number) =>
  low + (high - low) * random.uniform();
const chance = (random: Random, p: number) => random.uniform() < p;

/** The decimal point of a typed number moved, as exactly as a pen does it. */
function moved(text: string, places: number): string {
  const value = Number(`${text}e${places}`);
  return value.toFixed(Math.max(0, Math.min(12, (text.split('.')[1]?.length ?? 0) - places)));
}

function typedSeries(
  random: Random,
  plan: {
    readonly id: string;
    readonly nm: number;
    readonly k: number;
    readonly order: RunOrder;
    readonly case: SlipCase;
    readonly recorded: boolean;
    readonly zeros: boolean;
    readonly timed: boolean;
  },
): TypedSeries {
  const level = Math.exp(between(random, 0, Math.log(2000)));
  const laps = random.integer(5, 12);
  const lowest = level * 0.4;
  const steps = [0.01, 0.1, 1].filter((step) => lowest / step >= 20);
  const decimals = (step: number) => Math.round(-Math.log10(step));
  const step = { reference: pick(random, steps), candidate: pick(random, steps) };
  const unstable = plan.case === 'unstable' || chance(random, 0.1);
  const noise = unstable ? between(random, 0.03, 0.05) : between(random, 0.002, 0.015);
  const drift = between(random, -0.003, 0.003);
  const droop = chance(random, 0.4) ? between(random, 0, 0.2) : 0;
  const droopRuns = between(random, 1, 6);
  const cold = chance(random, 0.3) ? between(random, -0.3, 0.3) : 0;
  const decay = between(random, 0, 0.5);
  const zero = {
    reference: level * between(random, -0.03, 0.03),
    candidate: level * between(random, -0.03, 0.03),
  };
  let hopped = false;
  const runs = Array.from({ length: 2 * laps }, (_, i): Typed => {
    const first = firstMeter(plan.order, Math.floor(i / 2) + 1);
    const meter = i % 2 === 0 ? first : first === 'reference' ? 'candidate' : 'reference';
    if (plan.case === 'hopping' && i > 0 && chance(random, 0.15)) hopped = !hopped;
    let power = level * (1 + drift * i) * (1 - droop * (1 - Math.exp(-i / droopRuns)));
    if (i < 2) power *= 1 - cold * decay ** i;
    if (hopped) power *= 1.22;
    power *= Math.exp(noise * random.normal());
    const light = meter === 'reference' ? power : power / plan.k;
    const places = decimals(step[meter]);
    const dark = plan.zeros ? zero[meter] : 0;
    return {
      meter,
      reading: (light + dark).toFixed(places),
      peak: plan.recorded
        ? (light * (1 + 0.03 * (0.5 + random.uniform())) + dark).toFixed(places)
        : '',
      zero: plan.zeros ? (dark + step[meter] * 0.5 * random.normal()).toFixed(places) : '',
      time: plan.timed ? 60 * i : 0,
    };
  });
  const rounding = Math.max(step.reference, step.candidate) / (0.7 * level) / Math.sqrt(12);
  return { id: plan.id, nm: plan.nm, runs, sd: Math.hypot(noise, rounding) };
}

/** A study of 1 to 4 series with one slip of the wanted kind, or none where it is to be clean. */
export function slipStudy(random: Random, wanted: SlipCase): SlipStudy {
  for (;;) {
    const made = attempt(random, wanted);
    if (made !== null) return made;
  }
}

function attempt(random: Random, wanted: SlipCase): SlipStudy | null {
  const order = pick(random, ORDERS);
  const detail = wanted === 'decimal place, peak' || wanted === 'decimal place, zero';
  const tidy = detail || chance(random, 0.5);
  const zeros = wanted === 'decimal place, zero' || (tidy && chance(random, 0.5));
  const recorded = wanted === 'decimal place, peak' || (tidy && chance(random, 0.5));
  const timed = chance(random, 0.5);
  const one = wanted === 'series exchanged';
  const count = one ? random.integer(3, 4) : random.integer(1, 4);
  const colours = new Map<number, number>();
  const away = wanted === 'lap exchanged' || one;
  const series = Array.from({ length: count }, (_, i) => {
    const nm = one ? 520 : pick(random, WAVELENGTHS);
    let k = colours.get(nm) ?? between(random, 0.7, 1.4);
    while (away && Math.abs(k - 1) < 0.08) k = between(random, 0.7, 1.4);
    colours.set(nm, k);
    const own = k * Math.exp(0.01 * random.normal());
    if (away && Math.abs(own - 1) < 0.08) return null;
    return typedSeries(random, {
      id: `s${i + 1}`,
      nm,
      k: own,
      order,
      case: wanted,
      recorded,
      zeros,
      timed,
    });
  });
  if (series.includes(null)) return null;
  const list = series.filter((item) => item !== null);
  const slip = makeSlip(random, wanted, list, tidy);
  if (slip === null && !['clean', 'unstable', 'hopping'].includes(wanted)) return null;
  const study = parseStudy(
    {
      title: 'Invented readings',
      reference: {},
      candidate: {},
      sources: [...colours.keys()].map((nm) => ({ name: `laser ${nm}`, wavelength_nm: nm })),
      protocol: { order },
    },
    { runs: tidy ? tidyText(list) : lapText(list) },
  );
  return { study, slip };
}

function makeSlip(
  random: Random,
  wanted: SlipCase,
  list: readonly TypedSeries[],
  tidy: boolean,
): Slip | null {
  const target = random.integer(0, list.length - 1);
  const { runs, sd } = list[target]!;
  const before = list.slice(0, target).reduce((sum, one) => sum + one.runs.length, 0);
  const rowOf = (index: number) =>
    tidy ? before + index + 2 : before / 2 + Math.floor(index / 2) + 2;
  const at = random.integer(0, runs.length - 1);
  const run = runs[at]!;
  const entry = (
    kind: Slip['kind'],
    quantity: Slip['quantity'],
    typed: string,
    from: number,
    to: number,
  ): Slip => {
    const likely = Number(run[quantity]);
    run[quantity] = typed;
    const sigmas = Math.abs(Math.log(to / from)) / sd;
    return { rows: [rowOf(at)], kind, likely, quantity, sigmas, first: at === 0 };
  };
  if (wanted === 'decimal place' || wanted === 'unit, one entry') {
    const unit = wanted === 'unit, one entry';
    const places = pick(random, unit ? [-3, 3] : [-2, -1, 1, 2]);
    const typed = moved(run.reading, places);
    if (Number(typed) - Number(run.zero) <= 0) return null;
    return entry(unit ? 'unit' : 'decimal-place', 'reading', typed, 1, 10 ** places);
  }
  if (wanted === 'decimal place, peak') {
    const places = pick(random, [-2, -1, 1, 2]);
    return entry('decimal-place', 'peak', moved(run.peak, places), 1, 10 ** places);
  }
  if (wanted === 'decimal place, zero') {
    const typed = moved(run.zero, pick(random, [1, 2]));
    const net = Number(run.reading) - Number(typed);
    const right = Number(run.reading) - Number(run.zero);
    if (net <= 0 || Math.abs(Math.log(net / right)) < 0.08) return null;
    return entry('decimal-place', 'zero', typed, right, net);
  }
  if (wanted === 'digits') {
    const digits = run.reading.replace('.', '');
    const place = random.integer(0, digits.length - 2);
    const turned = `${digits.slice(0, place)}${digits[place + 1]}${digits[place]}${digits.slice(place + 2)}`;
    const point = run.reading.includes('.') ? run.reading.indexOf('.') : digits.length;
    const typed =
      point < digits.length ? `${turned.slice(0, point)}.${turned.slice(point)}` : turned;
    if (point > 1 && typed.startsWith('0')) return null;
    const zero = Number(run.zero);
    // 0.09 for 0.90 is both.
    const ratio = Math.log10(Number(typed) / Number(run.reading));
    if (Math.abs(ratio - Math.round(ratio)) < 1e-9) return null;
    const [from, to] = [Number(run.reading) - zero, Number(typed) - zero];
    if (to <= 0 || Math.abs(to / from - 1) < 0.08) return null;
    return entry('digits', 'reading', typed, from, to);
  }
  if (wanted === 'lap exchanged') {
    const first = at - (at % 2);
    const [a, b] = [runs[first]!, runs[first + 1]!];
    const sigmas = Math.abs(Math.log(Number(a.reading) / Number(b.reading))) / sd;
    exchange(a, b);
    const rows = [...new Set([rowOf(first), rowOf(first + 1)])];
    return {
      rows,
      kind: 'exchanged',
      likely: null,
      quantity: 'reading',
      sigmas,
      first: first === 0,
    };
  }
  if (wanted === 'series exchanged') {
    for (let i = 0; i < runs.length; i += 2) exchange(runs[i]!, runs[i + 1]!);
    const rows = [...new Set(runs.map((_, i) => rowOf(i)))];
    return { rows, kind: 'exchanged', likely: null, quantity: 'reading', sigmas: 99, first: false };
  }
  if (wanted === 'unit, whole meter') {
    const meter = pick(random, METERS);
    // Watts under a heading in milliwatts: all numbers of the meter a thousand times too small.
    runs.forEach((one) => {
      if (one.meter !== meter) return;
      one.reading = moved(one.reading, -3);
      if (one.peak !== '') one.peak = moved(one.peak, -3);
      if (one.zero !== '') one.zero = moved(one.zero, -3);
    });
    const rows = [...new Set(runs.flatMap((one, i) => (one.meter === meter ? [rowOf(i)] : [])))];
    return { rows, kind: 'unit', likely: null, quantity: 'reading', sigmas: 99, first: false };
  }
  if (wanted === 'row twice') {
    if (tidy) {
      runs.splice(at + 1, 0, { ...run });
      return {
        rows: [rowOf(at + 1)],
        kind: 'repeated',
        likely: null,
        quantity: 'reading',
        sigmas: 99,
        first: false,
      };
    }
    if (!runs.some((one) => one.time > 0)) return null;
    const first = at - (at % 2);
    runs.splice(first + 2, 0, { ...runs[first]! }, { ...runs[first + 1]! });
    return {
      rows: [rowOf(first + 2)],
      kind: 'repeated',
      likely: null,
      quantity: 'reading',
      sigmas: 99,
      first: false,
    };
  }
  return null;
}

function exchange(a: Typed, b: Typed): void {
  for (const quantity of ['reading', 'peak', 'zero'] as const) {
    [a[quantity], b[quantity]] = [b[quantity], a[quantity]];
  }
}

function tidyText(list: readonly TypedSeries[]): string {
  const rows = list.flatMap(({ id, nm, runs }) => {
    const timed = runs.some((run) => run.time > 0);
    return runs.map((run) =>
      [id, `laser ${nm}`, run.meter, run.reading, run.peak, run.zero, timed ? run.time : ''].join(),
    );
  });
  return `series,source,meter,reading_mW,peak_mW,zero_mW,started_at\n${rows.join('\n')}\n`;
}

function lapText(list: readonly TypedSeries[]): string {
  const rows = list.flatMap(({ id, nm, runs }) => {
    const timed = runs.some((run) => run.time > 0);
    return Array.from({ length: runs.length / 2 }, (_, lap) => {
      const pair = runs.slice(2 * lap, 2 * lap + 2);
      const reading = (meter: MeterRole) => pair.find((run) => run.meter === meter)!.reading;
      const start = timed ? pair[0]!.time : '';
      return [id, `laser ${nm}`, reading('reference'), reading('candidate'), start].join();
    });
  });
  return `series,source,reference_mW,candidate_mW,started_at\n${rows.join('\n')}\n`;
}

/** Whether a suspect says what was done. */
export function names(suspect: Suspect, slip: Slip): boolean {
  return (
    suspect.kind === slip.kind &&
    suspect.rows.join() === slip.rows.join() &&
    (suspect.quantity ?? 'reading') === slip.quantity &&
    (slip.likely === null || suspect.likely === slip.likely)
  );
}
