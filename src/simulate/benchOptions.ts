import { argumentWrong } from '../error.js';
import { requireShape } from '../statistics/shapes.js';
import type { MeterRole, RunOrder } from '../vocabulary.js';

/** How the power of the source changes from run to run. Whatever is left out is off. */
export interface SourceBehaviour {
  /** Relative standard deviation of the power of a run, independent between runs. */
  readonly noise?: number;
  readonly drift?: {
    /** Relative change per run; negative for a falling source. */
    readonly linear_per_run?: number;
    /** By what fraction first and last run lie above the middle of the series. */
    readonly quadratic?: number;
    /** Exponential fall by `amplitude` in total, with a time constant in runs. */
    readonly droop?: { readonly amplitude: number; readonly time_constant_runs: number };
    /** Relative standard deviation of the random-walk step from one run to the next. */
    readonly wander?: number;
    /** Between two runs the source may jump to its other mode, which is stronger by `size`. */
    readonly hop?: { readonly probability: number; readonly size: number };
  };
}

/** One number for each meter; what is left out is zero. */
export type PerMeter = Readonly<Partial<Record<MeterRole, number>>>;

/** What stands on the virtual bench. Every effect that is left out is off. */
export interface BenchOptions {
  readonly laps: number;
  /** Default `reference-first`. */
  readonly order?: RunOrder;
  /** Power of the source before any effect, in mW. */
  readonly level_mW: number;
  /** The true K: the candidate shows the power divided by this. */
  readonly factor: number;
  /** What the series is called; has no effect on the numbers. */
  readonly label?: {
    readonly id?: string;
    readonly source?: string;
    readonly wavelength_nm?: number;
    readonly filter?: string | null;
  };
  /** Relative standard deviation of a single reading of each meter. */
  readonly noise?: PerMeter;
  readonly source?: SourceBehaviour;
  /**
   * The first `runs` runs (default 1) lack the fraction `deficit` of their power, and each of them
   * lacks `decay` (default 0) times as much as the one before. A negative deficit is a surplus.
   */
  readonly cold_start?: {
    readonly deficit: number;
    readonly runs?: number;
    readonly decay?: number;
  };
  /** Smallest step of each display in mW; zero or left out: no rounding. */
  readonly resolution_mW?: PerMeter;
  /** Time from the start of one run to the start of the next, in s; default 45. */
  readonly run_interval_s?: number;
  /** Each interval is longer or shorter by up to this, in s; uniform; default 0. */
  readonly jitter_s?: number;
  /** Above `onset_mW` the candidate loses the fraction `droop_per_mW` for every mW of power. */
  readonly heat_sink?: { readonly onset_mW: number; readonly droop_per_mW: number };
  /** What each meter shows in the dark, in mW. Its display is off by this. */
  readonly zero_mW?: PerMeter;
  /** Whether the dark reading was written down and so is subtracted; default false. */
  readonly zero_recorded?: boolean;
  /** Sensors that follow a source that falls during the run; read `read_at_s` after switch-on. */
  readonly lag?: {
    readonly time_constant_s: PerMeter;
    readonly read_at_s: number;
    /** Relative fall of the source per s of its power at switch-on; default 0. */
    readonly fall_per_s?: number;
  };
  /**
   * Relative amount by which the highest reading of a run lies above the settled one: uniform from
   * half to one and a half times this. Left out: no peak readings.
   */
  readonly peak_excess?: number;
}

/** Refuses a bench that cannot be built. @throws argument-wrong naming the option. */
export function requireBench(options: BenchOptions): void {
  const {
    level_mW,
    factor,
    noise,
    source,
    cold_start,
    resolution_mW,
    heat_sink,
    zero_mW,
    lag,
    peak_excess,
  } = options;
  const interval = options.run_interval_s ?? 45;
  requireShape(level_mW, 'level_mW', 'above-zero');
  requireShape(factor, 'factor', 'above-zero');
  requireShape(interval, 'run_interval_s', 'above-zero');
  within('jitter_s', options.jitter_s, 0, interval * 0.99);
  within('noise.reference', noise?.reference, 0, 0.25);
  within('noise.candidate', noise?.candidate, 0, 0.25);
  within('source.noise', source?.noise, 0, 0.25);
  within('source.drift.linear_per_run', source?.drift?.linear_per_run, -0.5, 0.5);
  within('source.drift.quadratic', source?.drift?.quadratic, -0.5, 0.5);
  within('source.drift.wander', source?.drift?.wander, 0, 0.25);
  within('source.drift.droop.amplitude', source?.drift?.droop?.amplitude, -0.9, 0.9);
  if (source?.drift?.droop !== undefined) {
    requireShape(
      source.drift.droop.time_constant_runs,
      'source.drift.droop.time_constant_runs',
      'above-zero',
    );
  }
  within('source.drift.hop.probability', source?.drift?.hop?.probability, 0, 1);
  within('source.drift.hop.size', source?.drift?.hop?.size, -0.9, 0.9);
  within('cold_start.deficit', cold_start?.deficit, -0.9, 0.9);
  within('cold_start.decay', cold_start?.decay, 0, 1);
  within('cold_start.runs', cold_start?.runs, 0, 1e6);
  within('resolution_mW.reference', resolution_mW?.reference, 0, 1e6);
  within('resolution_mW.candidate', resolution_mW?.candidate, 0, 1e6);
  within('heat_sink.onset_mW', heat_sink?.onset_mW, 0, 1e9);
  within('heat_sink.droop_per_mW', heat_sink?.droop_per_mW, 0, 1);
  within('zero_mW.reference', zero_mW?.reference, -1e6, 1e6);
  within('zero_mW.candidate', zero_mW?.candidate, -1e6, 1e6);
  within('peak_excess', peak_excess, 0, 1);
  if (lag !== undefined) {
    requireShape(lag.read_at_s, 'lag.read_at_s', 'above-zero');
    within('lag.time_constant_s.reference', lag.time_constant_s.reference, 0, 1e4);
    within('lag.time_constant_s.candidate', lag.time_constant_s.candidate, 0, 1e4);
    within('lag.fall_per_s', lag.fall_per_s, -0.9 / lag.read_at_s, 0.9 / lag.read_at_s);
  }
}

function within(name: string, value: number | undefined, low: number, high: number): void {
  if (value === undefined) return;
  if (!(value >= low && value <= high)) {
    throw argumentWrong(`${name} is out of range.`, value, `a number from ${low} to ${high}`);
  }
}
