// What the commands of the guide print, as a terminal shows it.
import { join } from 'node:path';
import { dispatch } from '../../dist/inside.js';
import { ANSWERS, FOLDER, playEvening } from './evening.mjs';

/** Columns at which a long line is folded between words. */
const COLUMNS = 96;
/** Where: not between a number and its unit or its sign. */
const BREAK = /(?<!^ *)(?<!±) (?!%|mW\b|s\b)/g;

/** Each command of the guide, in the order of the evening; `before`: what happens at the bench first. */
const COMMANDS = [
  { line: `plan ${FOLDER}`, answers: ANSWERS },
  { line: `settle ${FOLDER}`, before: (from) => playEvening(join(from, FOLDER)) },
  { line: `compare ${FOLDER} --out ${FOLDER}/report --no-notebook` },
  { line: `correct ${FOLDER}/report/factors.json --reading 66 --nm 520 --date 2026-04-02` },
];

/**
 * Plays the whole evening in an empty folder.
 *
 * @returns {Promise<string[]>} command and output, one text each
 * @throws Error for a command that does not end with 0
 */
export async function playTerminals(from) {
  const texts = [];
  for (const { line, answers, before } of COMMANDS) {
    before?.(from);
    texts.push(await terminalText(from, line, answers));
  }
  return texts;
}

async function terminalText(from, line, answers) {
  let text = '';
  let complaint = '';
  let asked = 0;
  const io = {
    from,
    out: (more) => {
      text += more;
    },
    err: (more) => {
      complaint += more;
    },
    columns: null,
    onStop: () => () => undefined,
  };
  const ask = async (question) => {
    const answer = answers[asked] ?? '';
    asked += 1;
    text += `${question}${answer}\n`;
    return answer;
  };
  const code = await dispatch(line.split(' '), answers === undefined ? io : { ...io, ask });
  if (code !== 0) throw new Error(`${line} ended with ${code}: ${complaint}`);
  const printed = text.replaceAll(`${from}/`, '').trimEnd().split('\n').flatMap(folded);
  return [`$ npx meterpair ${line}`, ...printed.map((one) => one.trimEnd())].join('\n');
}

function folded(line) {
  if (line.length <= COLUMNS) return [line];
  const at = [...line.matchAll(BREAK)].findLast(({ index }) => index <= COLUMNS)?.index;
  return at === undefined ? [line] : [line.slice(0, at), ...folded(line.slice(at + 1))];
}

/** The guide with these texts in its `console` blocks, each found by its command. */
export function withTerminals(guide, texts) {
  return texts.reduce((page, text) => {
    const command = text.split('\n')[0];
    const from = page.indexOf(`\`\`\`console\n${command}\n`);
    if (from < 0) throw new Error(`The guide has no block that begins with "${command}".`);
    const begin = from + '```console\n'.length;
    return `${page.slice(0, begin)}${text}\n${page.slice(page.indexOf('```', begin))}`;
  }, guide);
}
