export { driftSentences } from './driftSentences.js';
export { hazardSentences } from './hazardSentences.js';
export { recordSentences } from './recordSentences.js';
export { studySentences } from './studySentences.js';
export { nextSentences, verdictSentences, warningSentences } from './verdictSentences.js';
