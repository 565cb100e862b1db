export { firstMeter } from './laps.js';
export type { StudyFiles } from './parseStudy.js';
export { parseStudy } from './parseStudy.js';
export { readStudy } from './readStudy.js';
export { findSlips } from './slips/findSlips.js';
export { withLikely } from './slips/withLikely.js';
export { withoutSuspects } from './slips/withoutSuspects.js';
export { studyJsonSchema } from './studySchema.js';
