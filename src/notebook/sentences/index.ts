export { thenAndNowSentences } from '../../findings/changeSentences.js';
export { opinionSentences } from '../../findings/opinionSentences.js';
export { reCheckSentences } from '../../findings/reCheckSentences.js';
export { recordSentences } from './recordSentences.js';
export {
  type ComparedPair,
  labelSentences,
  pairFarthestApart,
  standInSentences,
  unstatedSentences,
} from './secondOpinionSentences.js';
export {
  extrapolationSentences,
  lagOf,
  lagSentences,
} from './settlingSentences.js';
export { studySentences } from './studySentences.js';
export { furtherUnitSentences, unitSentences } from './unitSentences.js';
