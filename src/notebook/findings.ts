/** What a result says, as the report says it, for the cells of a notebook. */
export { answer } from '../findings/answer.js';
export { budgetMatrix, budgetOrigins } from '../findings/budgetFinding.js';
export { doubts, nextStep, suspectTexts } from '../findings/doubts.js';
export { hazardFinding as hazard } from '../findings/hazardFinding.js';
export {
  beforeAndAfter,
  differences,
  drift,
  leftOut,
  seriesFactors,
} from '../findings/seriesFindings.js';
export {
  settlingFindings as settling,
  timeConstants,
  traceFits,
} from '../findings/settlingFindings.js';
export {
  agreementByLevel,
  changes,
  means,
  opinions,
  power,
  reChecks,
} from '../findings/spokenFindings.js';
export { meters, opinionsStated, seriesList as series } from '../findings/studyFindings.js';
export { otherWarnings as warnings } from '../findings/warningRank.js';
export { commonWords, LASER_CAUTIONS } from '../findings/words.js';
