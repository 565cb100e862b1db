export type { BenchFiles } from './bench.js';
export { type BenchInput, type BenchState, benchState, type Step } from './benchState.js';
export { addLaps, closeSeries, takeBack } from './changeSeries.js';
export { deskOf } from './desk.js';
export { type Answer, type Entry, enterRun } from './enterRun.js';
export { readFolder, removeLeftovers } from './folder.js';
export { takeLock } from './lock.js';
export { PAGE_HTML, PAGE_STYLE } from './pageHtml.js';
export { benchServer } from './server.js';
