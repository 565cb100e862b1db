export { firstMeter } from './laps.js';
export type { StudyFiles } from './parseStudy.js';
export { parseStudy } from './parseStudy.js';
export { readStudy } from './readStudy.js';
export { studyJsonSchema } from './studySchema.js';
