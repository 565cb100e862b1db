/** JSON text to a value, with line, column and a likely cause when it does not parse. */
import type { ErrorCode, ErrorParts } from '../error.js';

export interface JsonFault {
  /** Place in the text, counted from 0. */
  readonly offset: number;
  readonly problem: string;
}

const NESTING_LIMIT = 200;
const LITERAL = /true|false|null|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;

/**
 * Parses JSON text. Unlike `JSON.parse` it says line and column, names the usual slips (a comma too
 * many, single quotation marks, a comment, a decimal comma) and refuses a name that stands twice.
 * A fault goes to the given list with the given code, and the value is then `undefined`.
 */
export function jsonValue(
  text: string,
  place: { readonly code: ErrorCode; readonly file: string },
  faults: ErrorParts[],
): unknown {
  const plain = text.startsWith('\uFEFF') ? text.slice(1) : text;
  if (plain.startsWith('PK\u0003\u0004')) {
    faults.push({
      ...place,
      message: 'This is a packed file (a spreadsheet or a zip archive), not JSON text.',
      expected: 'a plain text file, as a text editor saves it',
    });
    return undefined;
  }
  const fault = jsonFault(plain);
  if (fault === null) return JSON.parse(plain);
  const before = plain.slice(0, fault.offset).split(/\r\n|\r|\n/);
  const column = (before.at(-1) ?? '').length + 1;
  const rest = plain.slice(fault.offset).split(/\r|\n/)[0] ?? '';
  const end = fault.offset >= plain.length ? 'the end of the file' : 'the end of the line';
  faults.push({
    ...place,
    message: `The JSON text goes wrong at line ${before.length}, column ${column}: ${fault.problem}`,
    found: rest === '' ? end : rest.slice(0, 40),
  });
  return undefined;
}

/** How far the text has been read, and the first fault met. */
interface Reading {
  readonly text: string;
  at: number;
  fault: JsonFault | null;
}

/** The first place where text stops being JSON (RFC 8259), or a name that stands twice. */
export function jsonFault(text: string): JsonFault | null {
  const reading: Reading = { text, at: 0, fault: null };
  passSpace(reading);
  if (!passValue(reading, 0)) return reading.fault;
  passSpace(reading);
  if (reading.at < text.length) fail(reading, 'something stands after the end of the JSON text.');
  return reading.fault;
}

function fail(reading: Reading, problem: string, offset = reading.at): false {
  reading.fault ??= { offset, problem };
  return false;
}

function passSpace(reading: Reading): void {
  while (reading.at < reading.text.length && ' \t\r\n'.includes(reading.text.charAt(reading.at))) {
    reading.at += 1;
  }
}

/** Passes one character and the space behind it, where it stands next. */
function pass(reading: Reading, character: string): boolean {
  if (reading.text[reading.at] !== character) return false;
  reading.at += 1;
  passSpace(reading);
  return true;
}

function passValue(reading: Reading, depth: number): boolean {
  const { text, at } = reading;
  const first = text[at];
  if (depth > NESTING_LIMIT) return fail(reading, 'brackets are nested too deep.');
  if (first === '{' || first === '[') return passMembers(reading, first, depth);
  if (first === '"') return passText(reading);
  LITERAL.lastIndex = at;
  const word = LITERAL.exec(text)?.[0];
  if (word === undefined) return fail(reading, valueProblem(text.slice(at)));
  reading.at += word.length;
  return /[\w.]/.test(text.charAt(reading.at))
    ? fail(reading, 'a number or word is not written the way JSON wants it.')
    : true;
}

function passText(reading: Reading): boolean {
  const { text, at: start } = reading;
  reading.at += 1;
  for (; text[reading.at] !== '"'; reading.at += text[reading.at] === '\\' ? 2 : 1) {
    const { at } = reading;
    if (at >= text.length) return fail(reading, 'the closing quotation mark is missing.', start);
    if (text.charCodeAt(at) < 0x20) {
      return fail(
        reading,
        'a text in quotation marks runs over the end of the line or holds a tab.',
        text[at] === '\t' ? at : start,
      );
    }
    if (text[at] === '\\' && !/^\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/.test(text.slice(at, at + 6))) {
      return fail(reading, 'a backslash has to be written twice inside quotation marks (\\\\).');
    }
  }
  reading.at += 1;
  return true;
}

function passMembers(reading: Reading, open: '{' | '[', depth: number): boolean {
  const close = open === '{' ? '}' : ']';
  const names = new Set<string>();
  pass(reading, open);
  while (reading.text[reading.at] !== close) {
    if (open === '{' && !passName(reading, names)) return false;
    if (!passValue(reading, depth + 1)) return false;
    passSpace(reading);
    if (reading.text[reading.at] === close) break;
    if (!pass(reading, ',')) {
      return fail(reading, betweenProblem(reading.text.slice(reading.at), close));
    }
    if (reading.text[reading.at] === close) {
      return fail(reading, `a comma too many stands before this closing ${close}.`);
    }
  }
  reading.at += 1;
  return true;
}

/** A name, its colon, and the space around them. */
function passName(reading: Reading, names: Set<string>): boolean {
  const { text, at: start } = reading;
  if (text[start] !== '"') return fail(reading, nameProblem(text.slice(start), names.size > 0));
  if (!passText(reading)) return false;
  const name = String(JSON.parse(text.slice(start, reading.at)));
  if (names.has(name)) {
    return fail(reading, `the name "${name}" stands twice in one object.`, start);
  }
  names.add(name);
  passSpace(reading);
  return pass(reading, ':') || fail(reading, 'a colon is missing between a name and its value.');
}

function nameProblem(rest: string, further: boolean): string {
  if (rest === '') return 'the text ends too early; a closing } is missing.';
  if (/^[‘’“”„']/.test(rest)) return 'names need straight double quotation marks (").';
  if (/^\d/.test(rest)) {
    return 'a name in quotation marks should stand here; is this a decimal comma? Write 1.5, not 1,5.';
  }
  if (rest.startsWith('/') || rest.startsWith('#')) return 'JSON has no comments; delete this one.';
  if (rest.startsWith(',')) return 'a comma too many.';
  return further
    ? 'a name in double quotation marks should stand here after the comma.'
    : 'a name in double quotation marks should stand here.';
}

function betweenProblem(rest: string, close: string): string {
  if (rest === '') return `the text ends too early; a closing ${close} is missing.`;
  if (rest.startsWith('/') || rest.startsWith('#')) return 'JSON has no comments; delete this one.';
  if (/^[%a-zA-Zµμ]/u.test(rest)) {
    return 'a unit or word stands behind a value; the unit belongs in the name.';
  }
  if (rest.startsWith('"')) return 'a comma is missing before this.';
  return `a comma or a closing ${close} is missing.`;
}

function valueProblem(rest: string): string {
  if (rest === '') return 'the text ends too early; a value is missing.';
  if (/^[‘’“”„']/.test(rest)) return 'texts need straight double quotation marks (").';
  if (/^\+?\.?\d/.test(rest))
    return 'a number needs a digit in front of the point and no plus sign.';
  if (rest.startsWith('/') || rest.startsWith('#')) return 'JSON has no comments; delete this one.';
  if (/^[,}\]]/.test(rest)) return 'a value is missing, or a comma is too many.';
  if (/^(?:true|false|null|none)/i.test(rest)) {
    return 'write true, false and null in small letters.';
  }
  return 'a value should stand here: a number, true, false, null, or text in double quotation marks.';
}
