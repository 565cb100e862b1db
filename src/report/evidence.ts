/** The evidence, in the order of the work. */
import type { ListedFigure } from '../figures/reportFigures.js';
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

/** The figures of the report and of its appendix, by id; a missing one leaves its place empty. */
export type ReportFigures = readonly ListedFigure[];

/** Figures whose id is one of these, or begins with it and a hyphen. */
function slot(figures: ReportFigures, ...ids: readonly string[]): FigureSlot {
  return ids.flatMap((id) =>
    figures.filter((one) => one.id === id || one.id.startsWith(`${id}-`)).map((one) => one.figure),
  );
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
    runs(study, result, shelf, slot(figures, 'laps'), slot(figures, 'runs')),
    exclusions(result, shelf, slot(figures, 'left-out')),
    differences(result, shelf, slot(figures, 'power'), slot(figures, 'agreement')),
    drift(result),
    factorTables(result, shelf, slot(figures, 'factors')),
    budgetTables(study, result, shelf, slot(figures, 'budget')),
    beforeAfter(result, shelf, slot(figures, 'before-after')),
    ...spokenParts(result, shelf, slot(figures, 're-checks')).map((part) => part.section),
    settings(result),
    infrared(result),
    hazardTable(result, shelf, slot(figures, 'hazard')),
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
