export type { BenchFiles } from './bench.js';
export { type BenchInput, type BenchState, benchState, type Step } from './benchState.js';
export { addLaps, closeSeries, REASONS, takeBack } from './changeSeries.js';
export { type Answer, type Entry, enterRun } from './enterRun.js';
