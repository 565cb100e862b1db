export { agreementFigure } from './agreementFigure.js';
export { beforeAfterFigure } from './beforeAfterFigure.js';
export { budgetFigure } from './budgetFigure.js';
export { factorsFigure } from './factorsFigure.js';
export type { Figure } from './figure.js';
export { type ReportFigureSet, reportFigures } from './reportFigures.js';
export { runsFigure } from './runsFigure.js';
