/** What the lessons in notebooks/lessons call: a room of functions for each of them. */

export * as agreement from './agreement.js';
export * as aReading from './aReading.js';
export * as averages from './averages.js';
export * as colours from './colours.js';
export * as factor from './factor.js';
export * as intervals from './intervals.js';
export * as leavingOut from './leavingOut.js';
export { sheet } from './sheet.js';
export * as turns from './turns.js';
