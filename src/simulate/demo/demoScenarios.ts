import type { Scenario } from '../scenario.js';
import { aYearLater } from './aYearLater.js';
import { greenLeak } from './greenLeak.js';
import { secondOpinion } from './secondOpinion.js';
import { settling } from './settling.js';
import { sideBySide } from './sideBySide.js';
import { slipOfThePen } from './slipOfThePen.js';
import { workshopEvening } from './workshopEvening.js';

/** The invented studies of data-demo/, one for each folder, in the order of their names. */
export const demoScenarios: readonly Scenario[] = [
  workshopEvening,
  sideBySide,
  settling,
  secondOpinion,
  aYearLater,
  greenLeak,
  slipOfThePen,
];
