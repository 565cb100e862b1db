/** The evening as entries, without server or page. */

import type { Answer } from '../../src/measure/answer.js';
import { type BenchState, benchState } from '../../src/measure/benchState.js';
import { addLaps, closeSeries } from '../../src/measure/changeSeries.js';
import { enterRun } from '../../src/measure/enterRun.js';
import type { Entry } from '../../src/measure/requests.js';
import { type Shown, STUDY, startOf } from './evening.js';

export const stateOf = (runs: string, study: unknown = STUDY): BenchState =>
  benchState({ study, runs, wanted: null });

export function written(answer: Answer): string {
  if (answer.kind !== 'written') throw new Error(`${answer.kind}: ${answer.message}`);
  return answer.text;
}

export function entryOf(state: BenchState, shown: Shown, run: number): Entry {
  if (state.step.do !== 'run') throw new Error(`No run is next, but ${state.step.do}.`);
  const { asks, row, wavelength_nm } = state.step;
  return {
    row,
    reading: shown.reading,
    zero: shown.zero,
    peak: shown.peak,
    setting: asks.setting ? String(wavelength_nm) : '',
    started_ms: startOf(run),
    ahead_min: 60,
    checked: false,
  };
}

/** Plays runs from the file on, closing each series as it is done. */
export function play(runs: string, shown: readonly Shown[], study: unknown = STUDY): string {
  let text = runs;
  shown.forEach((one, index) => {
    const state = stateOf(text, study);
    if (state.step.do === 'close') text = written(closeSeries({ study, runs: text }));
    text = written(enterRun({ study, runs: text }, entryOf(stateOf(text, study), one, index)));
  });
  return text;
}

export { addLaps, closeSeries };
