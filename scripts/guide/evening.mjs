// The invented evening of docs/guide.md: what was answered, what both displays showed, what went wrong.
// The virtual bench makes the numbers, so the guide, its pictures and its test speak of the same ones.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { virtualStudy } from '../../dist/index.js';
import { benchState, closeSeries, enterRun, filmRun, takeBack } from '../../dist/inside.js';

export const FOLDER = 'my-evening';

/** What was typed when `plan` asked, in its order; empty: Enter alone. */
export const ANSWERS = [
  'green module:520:70',
  'red pointer:650:40',
  '',
  'Bench head R',
  'Drawer meter C',
  '3',
  '6',
  '',
  '0.1',
  '0.1',
  '1000',
  '1000',
  'jig',
  '',
  '6',
];

export const LAPS = 8;
const SOURCES = [
  { name: 'green module', wavelength_nm: 520, level_mW: 74, factor: 1.12 },
  { name: 'red pointer', wavelength_nm: 650, level_mW: 42, factor: 0.97 },
];

/** Place of the run (of all, from 0) whose head was knocked, and that is taken back. */
export const KNOCKED = 4;
export const REASON = 'knocked head';
/** Runs that were filmed, one on each meter. */
const FILMED = [0, 1];

/** When run n began: a minute apart, a quarter of an hour for the other source; ms since 1970. */
export const startOf = (run) =>
  Date.UTC(2026, 2, 14, 18, 30) + 60_000 * (run + (run < 2 * LAPS ? 0 : 15));

const invented = virtualStudy({
  folder: FOLDER,
  seed: 20_260_314,
  opens_at: null,
  layout: 'tidy',
  study: {
    title: 'invented',
    reference: { name: 'R', resolution_mW: 0.1 },
    candidate: { name: 'C', resolution_mW: 0.1 },
    sources: SOURCES.map(({ name, wavelength_nm }) => ({ name, wavelength_nm })),
  },
  series: SOURCES.map(({ name, level_mW, factor }, at) => ({
    id: name,
    source: name,
    starts_min: 60 * at,
    bench: {
      laps: LAPS,
      order: 'ABBA-BAAB',
      level_mW,
      factor,
      noise: { reference: 0.003, candidate: 0.005 },
      source: { noise: 0.002, drift: { linear_per_run: -0.0008 } },
      zero_mW: { reference: 0.1, candidate: 0.3 },
      zero_recorded: true,
      peak_excess: 0.015,
      run_interval_s: 60,
      lag: { time_constant_s: { reference: 2, candidate: 6 }, read_at_s: 30 },
    },
    trace: { every_s: 2, until_s: 40 },
    ...(at === 0 ? { incidents: [{ run: KNOCKED + 1, reading_factor: 0.94 }] } : {}),
  })),
  story: [],
  hidden: [],
  expect: [],
});

const table = (text) => {
  const [heading, ...rows] = text.trim().split('\n');
  const names = heading.split(',');
  return rows.map((row) => Object.fromEntries(row.split(',').map((cell, i) => [names[i], cell])));
};

/** What the displays showed, run by run: `meter`, `zero`, `reading`, `peak`, as typed. */
export const SHOWN = table(invented.files['runs.csv']).map((row) => ({
  meter: row.meter,
  zero: row.zero_mW,
  reading: row.reading_mW,
  peak: row.peak_mW,
}));

const TRACES = table(invented.files['traces.csv']);

/**
 * The evening at the bench, by the functions behind its page.
 *
 * @param {string} folder with the plan; its runs.csv is filled, and traces.csv written
 * @param {number} runs how many of them
 */
export function playEvening(folder, runs = SHOWN.length) {
  const at = (name) => join(folder, name);
  const study = JSON.parse(readFileSync(at('study.json'), 'utf8'));
  let text = readFileSync(at('runs.csv'), 'utf8');
  let traces = null;
  const files = () => ({ study, runs: text, ...(traces === null ? {} : { traces }) });
  const step = () => benchState({ ...files(), wanted: null }).step;
  const take = (answer) => {
    if (answer.kind !== 'written') throw new Error(`${answer.kind}: ${answer.message}`);
    if (answer.file === 'runs.csv') text = answer.text;
    else traces = answer.text;
  };
  for (let run = 0; run < runs; run += 1) {
    if (step().do === 'close') take(closeSeries(files()));
    const { row, asks, wavelength_nm } = step();
    const { reading, zero, peak } = SHOWN[run];
    const setting = asks.setting ? String(wavelength_nm) : '';
    const when = { started_ms: startOf(run), ahead_min: 0 };
    take(enterRun(files(), { row, reading, zero, peak, setting, ...when, checked: false }));
    if (run === KNOCKED) take(takeBack(files(), { row, reason: REASON }));
    if (FILMED.includes(run)) take(filmRun(files(), { row, points: filmOf(run) }));
  }
  if (runs === SHOWN.length) take(closeSeries(files()));
  writeFileSync(at('runs.csv'), text);
  if (traces !== null) writeFileSync(at('traces.csv'), traces);
}

const filmOf = (run) =>
  TRACES.filter((row) => row.series === SOURCES[0].name && Number(row.run) === run + 1).map(
    (row) => ({ elapsed_s: Number(row.elapsed_s), reading: row.reading_mW }),
  );
