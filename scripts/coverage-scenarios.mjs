// Scenarios of the coverage study. `bench` is what the virtual bench simulates; `known` is what the
// comparison interval is told: the columns of the true drift (functions of time in runs), and how
// many first laps were really cold. `group`: "required" scenarios have to meet the bars; "stress"
// scenarios are harder than any interval can answer in full, and are shown beside them.

const straight = (t) => t;
const square = (t) => t * t;

export const ORDERS = ['reference-first', 'candidate-first', 'ABBA', 'ABBA-BAAB'];

/** Noise of 0.5 % for both meters unless a scenario says otherwise. */
const noise = { reference: 0.005, candidate: 0.005 };

export const SCENARIOS = [
  { name: 'steady source', group: 'required', bench: { noise } },
  {
    name: 'linear drift, -0.3 % a run',
    group: 'required',
    bench: { noise, source: { drift: { linear_per_run: -0.003 } } },
    known: { columns: [straight] },
  },
  {
    name: 'linear drift, +2 % a run',
    group: 'required',
    bench: { noise, source: { drift: { linear_per_run: 0.02 } } },
    known: { columns: [straight] },
  },
  {
    name: 'curved drift, 3 %',
    group: 'required',
    bench: { noise, source: { drift: { linear_per_run: -0.003, quadratic: 0.03 } } },
    known: { columns: [straight, square] },
  },
  {
    name: 'droop while warming, 8 %, time constant 4 runs',
    group: 'required',
    bench: { noise, source: { drift: { droop: { amplitude: 0.08, time_constant_runs: 4 } } } },
    known: { columns: [(t) => Math.log(1 - 0.08 * (1 - Math.exp(-t / 4)))] },
  },
  {
    name: 'droop while warming, 10 %, time constant 10 runs',
    group: 'required',
    bench: { noise, source: { drift: { droop: { amplitude: 0.1, time_constant_runs: 10 } } } },
    known: { columns: [(t) => Math.log(1 - 0.1 * (1 - Math.exp(-t / 10)))] },
  },
  {
    name: 'cold start, first run 8 % low',
    group: 'required',
    bench: { noise, cold_start: { deficit: 0.08, runs: 1 } },
    known: { coldLaps: 1 },
  },
  {
    name: 'cold start, first two runs 10 and 2 % low, drift',
    group: 'required',
    bench: {
      noise,
      cold_start: { deficit: 0.1, runs: 2, decay: 0.2 },
      source: { drift: { linear_per_run: -0.002 } },
    },
    known: { coldLaps: 1, columns: [straight] },
  },
  {
    name: 'unstable source, 4 % from run to run',
    group: 'required',
    bench: { noise, source: { noise: 0.04 } },
  },
  {
    name: 'candidate six times as noisy',
    group: 'required',
    bench: { noise: { reference: 0.002, candidate: 0.012 } },
  },
  {
    name: 'reference five times as noisy',
    group: 'required',
    bench: { noise: { reference: 0.01, candidate: 0.002 } },
  },
  {
    name: 'display step as large as the noise',
    group: 'required',
    bench: { noise, level_mW: 20, resolution_mW: { reference: 0.1, candidate: 0.1 } },
  },
  {
    name: 'unequal times, drift',
    group: 'required',
    bench: { noise, source: { drift: { linear_per_run: -0.004 } }, jitter_s: 30 },
    known: { columns: [straight] },
  },
  {
    name: 'weak cold start, first run 2 % low',
    group: 'stress',
    bench: { noise, cold_start: { deficit: 0.02, runs: 1 } },
    known: { coldLaps: 1 },
  },
  {
    name: 'wandering source, random walk of 0.5 % a run',
    group: 'stress',
    bench: {
      noise: { reference: 0.003, candidate: 0.003 },
      source: { drift: { wander: 0.005 } },
    },
    known: { wander: (0.005 / 0.003) ** 2 },
  },
  {
    name: 'mode hops of 2 %',
    group: 'stress',
    bench: { noise, source: { drift: { hop: { probability: 0.2, size: 0.02 } } } },
  },
  {
    name: 'coarse display: step three times the noise',
    group: 'stress',
    bench: {
      noise: { reference: 0.005, candidate: 0.007 },
      level_mW: 46,
      resolution_mW: { reference: 0.1, candidate: 1 },
    },
  },
  {
    name: 'frozen display: step twenty times the noise',
    group: 'stress',
    bench: {
      noise: { reference: 0.001, candidate: 0.001 },
      level_mW: 46,
      resolution_mW: { reference: 0.1, candidate: 1 },
    },
  },
];

/**
 * Laps added until the interval is narrow enough: after each block of four the series is analysed,
 * and the evening ends by a rule, or at 32 laps.
 *
 * never: all 32 laps. within: the half-width of the interval is within `wanted`. twice: in two blocks
 * running. one-more: within, then one more block whatever it brings. two-stage: after the first look
 * the laps still needed are reckoned from the scatter seen (Stein 1945) and all of them are taken.
 */
const stopping = (name, rule, wanted, more = {}) => ({
  name,
  rule,
  wanted,
  first: 8,
  most_laps: 32,
  bench: { noise },
  ...more,
});

export const STOPPING = [
  stopping('all 32 laps, as planned', 'never', 0),
  stopping('first block within 0.4 %', 'within', 0.004),
  stopping('first block within 0.3 %', 'within', 0.003),
  stopping('first block within 1 %, candidate six times as noisy', 'within', 0.01, {
    bench: { noise: { reference: 0.002, candidate: 0.012 } },
  }),
  stopping('first block within 0.36 % (a tenth less)', 'within', 0.0036),
  stopping('first look after 16 laps, within 0.3 %', 'within', 0.003, { first: 16 }),
  stopping('two blocks running within 0.3 %', 'twice', 0.003),
  stopping('within 0.3 %, then one more block', 'one-more', 0.003),
  stopping('laps reckoned once, after 8, for 0.3 %', 'two-stage', 0.003),
];
