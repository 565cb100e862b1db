export { agreementFigure } from './agreementFigure.js';
export { beforeAfterFigure } from './beforeAfterFigure.js';
export { budgetFigure } from './budgetFigure.js';
export { envelopeFigure } from './envelopeFigure.js';
export { factorsFigure } from './factorsFigure.js';
export type { Figure } from './figure.js';
export { hazardFigure } from './hazardFigure.js';
export { lapsFigure } from './lapsFigure.js';
export { leftOutFigure } from './leftOutFigure.js';
export { opinionFigure } from './opinionFigure.js';
export { type NamedPlan, type PlannedWidth, planFigure, plannedWidths } from './planFigure.js';
export { powerFigure } from './powerFigure.js';
export { reChecksFigure } from './reChecksFigure.js';
export {
  appendixFigures,
  type ListedFigure,
  type ReportFigureId,
  reportFigures,
} from './reportFigures.js';
export { runsFigure } from './runsFigure.js';
export { traceFigure } from './traceFigure.js';
export { type UnitsShown, unitsFigure } from './unitsFigure.js';
