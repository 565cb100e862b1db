/** Writes docs/validation.md: what is checked from outside, how well it agrees, and what is not. */
import { readdirSync, readFileSync } from 'node:fs';
import {
  allowed,
  digitsOf,
  digitsThatAgree,
  type Figure,
  type PublishedSource,
  shown,
} from './figure.js';
import { marked, markedFiles } from './unsourced.js';

const root = new URL('../../', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, root), 'utf8');

/** The lists of cases in this folder, in the order of the page. */
export async function lists(): Promise<readonly (readonly [string, readonly PublishedSource[]])[]> {
  const names = readdirSync(new URL('test/published/', root))
    .filter((name) => name.endsWith('.cases.ts'))
    .sort();
  return Promise.all(
    names.map(async (name) => {
      const { sources }: { sources: readonly PublishedSource[] } = await import(
        new URL(name, import.meta.url).href
      );
      return [name, sources] as const;
    }),
  );
}

const cell = (text: string) => text.replaceAll('|', '\\|');
/** General-purpose software is named first in its source. */
const isSoftware = ({ source }: PublishedSource) => /^(R\b|SciPy)/.test(source);

interface Cells {
  readonly quantity: string;
  readonly printed: string;
  readonly ours: string;
  readonly agree: string;
  readonly remarks: string;
}

function cellsOf(one: Figure): Cells {
  const ours = one.ours().map((found) => found ?? Number.NaN);
  const agree = one.printed.map((printed, i) => {
    const all = digitsOf(printed);
    const some = digitsThatAgree(printed, ours[i]!);
    return some === all ? `${all}` : `${some} of ${all}`;
  });
  // Why a figure may be further off matters where it is.
  const asPrinted = agree.every((digits) => !digits.includes('of'));
  const stricter = one.within === undefined && one.relative === undefined;
  const note = asPrinted && !stricter ? '' : (one.note ?? '');
  return {
    quantity: one.quantity,
    printed: one.printed.join(', '),
    ours: one.printed.map((printed, i) => shown(printed, ours[i]!)).join(', '),
    agree: agree.join(', '),
    remarks: [one.memory ? '**from memory**' : '', note].filter(Boolean).join('; '),
  };
}

/** Neighbours with the same remarks share a row, as long as it stays readable. */
function shared(rows: readonly Cells[]): Cells[] {
  const done: Cells[] = [];
  for (const next of rows) {
    const last = done.at(-1);
    const fits = last !== undefined && (last.printed + next.printed).length < 72;
    if (!fits || last.remarks !== next.remarks) {
      done.push(next);
      continue;
    }
    const join = (key: keyof Cells) => `${last[key]}; ${next[key]}`;
    done[done.length - 1] = {
      quantity: join('quantity'),
      printed: join('printed'),
      ours: join('ours'),
      agree: join('agree'),
      remarks: last.remarks,
    };
  }
  return done;
}

function rows(name: string, { source, read: where, figures }: PublishedSource): string[] {
  const title = `[${source}](../test/published/${name})${where === undefined ? '' : `; read in: ${where}`}`;
  return shared(figures.map(cellsOf)).map(
    ({ quantity, printed, ours, agree, remarks }, i) =>
      `| ${[i === 0 ? title : '', quantity, printed, ours, agree, remarks].map(cell).join(' | ')} |`,
  );
}

function counted(sources: readonly PublishedSource[]): string {
  const figures = sources.flatMap((source) => source.figures);
  const all = figures.flatMap((one) => one.printed.map((printed, i) => ({ one, printed, i })));
  const full = all.filter(
    ({ one, printed, i }) =>
      digitsThatAgree(printed, one.ours()[i] ?? Number.NaN) === digitsOf(printed),
  );
  const memory = all.filter(({ one }) => one.memory).length;
  const outside = all.filter(
    ({ one, printed, i }) =>
      !(Math.abs((one.ours()[i] ?? Number.NaN) - Number(printed)) <= allowed(one, printed)),
  );
  const none =
    outside.length === 0
      ? 'None is further off than its remark allows.'
      : `**${outside.length} are further off than their remarks allow.**`;
  return `${all.length} figures from ${sources.length} sources. In ${full.length} of them all printed digits agree; the other ${all.length - full.length} have a remark that says why fewer do. ${none} ${memory} of the printed figures are from memory.`;
}

const HEAD =
  '| source | quantity | printed | ours | digits that agree | remarks |\n|---|---|---|---|---|---|';

/** The paragraph of a page that holds a text. */
function paragraph(path: string, holds: RegExp): string {
  const found = read(path)
    .split('\n')
    .find((line) => holds.test(line));
  if (found === undefined) throw new Error(`${path} has no line with ${holds}`);
  return found;
}

/** The sentences of a paragraph that hold a text. */
const sentence = (path: string, holds: RegExp) =>
  paragraph(path, holds)
    .split(/(?<=\.)\s+(?=[A-Z])/)
    .filter((one) => holds.test(one))
    .join(' ');

/** From the lowest to the highest share of docs/corrections.md that was held. */
function heldRange(): string {
  const [placement = [], powers = []] = read('docs/corrections.md')
    .split('## At other powers')
    .map((part) =>
      part
        .split('\n')
        .map((line) => line.split('|').map((one) => one.trim()))
        .filter((row) => row.length === 8 && /^[\d.]+$/.test(row[4]!)),
    );
  const range = (rows: readonly (readonly string[])[]) => {
    const held = rows.map((row) => Number(row[4]));
    return `${Math.min(...held)} to ${Math.max(...held)} %`;
  };
  const stated = placement.filter((row) => row[3] !== '–');
  const guessed = placement.filter((row) => row[3] === '–');
  return `held in ${range(stated)} where the study states what putting back the heads does; in ${range(guessed)} where it does not and heads move by one to three times the usual 1 %; in ${range(powers)} between the measured powers`;
}

/** What the tests of the rooms make of all the faults that docs/mutation.md counts. */
function faultsSeen(): string {
  const last = read('docs/mutation.md')
    .split('\n')
    .find((line) => line.startsWith('| all |'));
  if (last === undefined) throw new Error('docs/mutation.md has no last line');
  const [, , , , faults, putIn, , , , share] = last.split('|').map((one) => one.trim());
  return `of ${faults}, ${share} are seen, as ${putIn} of them tell: [mutation](mutation.md)`;
}

// A command that package.json does not have is left out.
const COMMANDS: readonly (readonly [string, string])[] = [
  ['fuzz', 'spoiled and odd input ends in an answer without NaN or infinity, or in the one error'],
  ['mutate', `which deliberate faults in the code no test notices: ${faultsSeen()}`],
  ['growth', 'twice the rows take at most 2.3 times the time: [performance](performance.md)'],
  ['bench', 'our times beside those of NumPy, SciPy and pandas, answers compared first'],
];

function commands(): string {
  const { scripts }: { scripts: { readonly [name: string]: string } } = JSON.parse(
    read('package.json'),
  );
  const here = COMMANDS.filter(([name]) => name in scripts);
  return here.map(([name, what]) => `| \`npm run ${name}\` | ${what} |\n`).join('');
}

export async function validationPage(): Promise<string> {
  const found = await lists();
  const of = (software: boolean) =>
    found.flatMap(([name, sources]) =>
      sources
        .filter((source) => isSoftware(source) === software)
        .flatMap((source) => rows(name, source)),
    );
  const all = found.flatMap(([, sources]) => sources);
  return read('test/published/validation.template.txt')
    .replace('{{counted}}', () => counted(all))
    .replace('{{published}}', () => [HEAD, ...of(false)].join('\n'))
    .replace('{{software}}', () => [HEAD, ...of(true)].join('\n'))
    .replace(
      '{{coverage}}',
      () =>
        `${paragraph('docs/coverage.md', /required rows of/)} ${paragraph('docs/coverage.md', /^Width against/)}`,
    )
    .replace('{{corrections}}', heldRange)
    .replace('{{plans}}', () => sentence('docs/methods/planning.md', /were kept by at least/))
    .replace('{{commands}}\n', commands)
    .replace('{{marked}}', marked)
    .replace('{{files}}', markedFiles);
}
