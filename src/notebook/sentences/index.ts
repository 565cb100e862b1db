export { changeSentences } from '../../report/changeSentences.js';
export { meansSentences } from '../../report/meansSentences.js';
export { opinionSentences } from '../../report/opinionSentences.js';
export { powerSentences } from '../../report/powerSentences.js';
export { type AnswerCheck, checkAnswer } from './checkAnswer.js';
export { correctionSentences } from './correctionSentences.js';
export { driftSentences } from './driftSentences.js';
export { hazardSentences } from './hazardSentences.js';
export { recordSentences } from './recordSentences.js';
export {
  extrapolationSentences,
  lagOf,
  lagSentences,
  readingsAt,
} from './settlingSentences.js';
export { studySentences } from './studySentences.js';
export { nextSentences, verdictSentences, warningSentences } from './verdictSentences.js';
