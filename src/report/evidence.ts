/** The evidence, in the order of the work. */
import type { Result, Study } from '../vocabulary.js';
import { budgetTables } from './budgetTables.js';
import { changeTable } from './changeTable.js';
import { differences, drift } from './differences.js';
import { beforeAfter, factorTables } from './factorTables.js';
import { type FigureShelf, type FigureSlot, figureShelf } from './figureBlock.js';
import { hazardTable } from './hazardTable.js';
import { type Html, html } from './html.js';
import { meansList } from './meansList.js';
import { measured } from './measured.js';
import { opinionTable } from './opinionTable.js';
import { powerTable } from './powerTable.js';
import { reCheckTable } from './reCheckTable.js';
import { exclusions, runs } from './runsAndExclusions.js';
import { infrared, settings, warnings } from './settingsAndWarnings.js';

/** One figure or several parts of one for each place; a missing one leaves its place empty. */
export interface ReportFigures {
  readonly runs?: FigureSlot;
  readonly agreement?: FigureSlot;
  readonly factors?: FigureSlot;
  readonly budget?: FigureSlot;
  readonly beforeAfter?: FigureSlot;
  readonly reChecks?: FigureSlot;
}

/** All sections between the answer and the record. */
export function evidence(
  study: Study,
  result: Result,
  figures: ReportFigures,
  shelf: FigureShelf,
): Html {
  return html`${[
    measured(study),
    runs(study, result, shelf, figures.runs),
    exclusions(result),
    differences(result, shelf, figures.agreement),
    drift(result),
    factorTables(result, shelf, figures.factors),
    budgetTables(study, result, shelf, figures.budget),
    beforeAfter(result, shelf, figures.beforeAfter),
    ...spokenParts(result, shelf, figures.reChecks).map((part) => part.section),
    settings(result),
    infrared(result),
    hazardTable(result),
    warnings(result),
  ]}`;
}

/** Sections that stand only where there is something to say. */
function spokenParts(
  result: Result,
  shelf: FigureShelf,
  reChecks?: FigureSlot,
): readonly { readonly id: string; readonly name: string; readonly section: Html }[] {
  const parts: readonly (readonly [id: string, name: string, section: Html | null])[] = [
    ['means', 'Means of series', meansList(result)],
    ['power', 'Power', powerTable(result)],
    ['opinions', 'Second opinion', opinionTable(result)],
    ['then-and-now', 'Then and now', changeTable(result)],
    ['re-checks', 'Re-checks', reCheckTable(result, shelf, reChecks)],
  ];
  return parts.flatMap(([id, name, section]) => (section === null ? [] : [{ id, name, section }]));
}

/** Where the sections are, for the list of contents. */
export function sectionsOf(result: Result): readonly (readonly [id: string, name: string])[] {
  return SECTIONS.flatMap((one) =>
    one[0] === 'settings'
      ? [...spokenParts(result, figureShelf()).map(({ id, name }) => [id, name] as const), one]
      : [one],
  );
}

const SECTIONS: readonly (readonly [id: string, name: string])[] = [
  ['answer', 'Correction card'],
  ['cautions', 'Cautions'],
  ['measured', 'What was measured'],
  ['runs', 'Runs'],
  ['left-out', 'Left out'],
  ['differences', 'Differences'],
  ['drift', 'Drift'],
  ['factors', 'Factors'],
  ['budget', 'Uncertainty'],
  ['before-after', 'Before and after'],
  ['settings', 'Settings'],
  ['hazard', 'Hazard'],
  ['warnings', 'Warnings'],
  ['record', 'Record'],
];
