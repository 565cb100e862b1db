import { parseArgs } from 'node:util';
import { MeterpairError } from '../error.js';
import { numberCell } from '../record/numberCell.js';
import type { Io, Verb } from './io.js';

/** One option of a command. */
export interface Option {
  /** The one letter that stands for it. */
  readonly short?: string;
  /** Word for its value in messages, as `DIR`. Without one the option is a switch. */
  readonly value?: string;
  /** It may stand several times. */
  readonly many?: boolean;
}

export type Options = Readonly<Record<string, Option>>;

/** Lists where an option may stand several times, a text or `null` where it takes a value. */
export type OptionValues<O extends Options> = {
  readonly [Name in keyof O]: O[Name] extends { readonly value: string }
    ? O[Name] extends { readonly many: true }
      ? readonly string[]
      : string | null
    : boolean;
};

/** What a command takes: its options (all know `help`), and what may stand beside them, in order. */
export interface Takes<O extends Options> {
  readonly options: O;
  readonly places: readonly string[];
}

export interface CommandLine<O extends Options> {
  /** The arguments that are no options, in order. */
  readonly places: readonly string[];
  readonly options: OptionValues<O>;
  /** `-h` or `--help` was among them. */
  readonly help: boolean;
}

/** A command of what it takes and does: `-h` prints its help, and nothing else happens. */
export function verb<const O extends Options>(
  of: Takes<O> & {
    readonly help: string;
    readonly run: (line: CommandLine<O>, io: Io) => Promise<number>;
  },
): Verb {
  return async (args, io) => {
    const line = commandLine(args, of);
    if (!line.help) return of.run(line, io);
    io.out(of.help);
    return 0;
  };
}

/**
 * Reads the arguments of a command: options before, between and after the places, `--name value` or
 * `--name=value`.
 *
 * @throws command-line with what was found and what would be right
 */
export function commandLine<const O extends Options>(
  args: readonly string[],
  { options, places: names }: Takes<O>,
): CommandLine<O> {
  const all: Options = { ...options, help: { short: 'h' } };
  const { tokens } = parseArgs({
    args: [...args],
    options: Object.fromEntries(
      Object.entries(all).map(([name, { short, value }]) => [
        name,
        {
          type: value === undefined ? ('boolean' as const) : ('string' as const),
          ...(short === undefined ? {} : { short }),
        },
      ]),
    ),
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  const places: string[] = [];
  const found = new Map<string, string[]>();
  for (const token of tokens) {
    if (token.kind === 'positional') places.push(token.value);
    if (token.kind !== 'option') continue;
    const option = Object.hasOwn(all, token.name) ? all[token.name] : undefined;
    if (option === undefined) throw unknownOption(token.rawName, all);
    const value = valueFor(token, option);
    found.set(token.name, [...(found.get(token.name) ?? []), value]);
  }
  const values = Object.entries(options).map(([name, option]) => {
    const said = found.get(name) ?? [];
    if (option.value === undefined) return [name, said.length > 0];
    if (option.many === true) return [name, said];
    if (said.length > 1) {
      throw badUse(`--${name} stands twice.`, said.join(' and '), `--${name} once`);
    }
    return [name, said[0] ?? null];
  });
  const help = found.has('help');
  if (!help) requireAtMost(places, names);
  return { places, options: Object.fromEntries(values) as OptionValues<O>, help };
}

interface OptionToken {
  readonly name: string;
  readonly rawName: string;
  readonly value?: string | undefined;
  readonly inlineValue?: boolean | undefined;
}

function valueFor(token: OptionToken, option: Option): string {
  const { name, value, inlineValue } = token;
  if (option.value === undefined) {
    if (value !== undefined) throw badUse(`--${name} takes no value.`, value, `--${name}`);
    return '';
  }
  // A name hardly ever begins with a dash: more likely it was forgotten. A negative number does.
  const forgotten = !inlineValue && value?.startsWith('-') && !/^-[\d.,]/.test(value);
  if (!value || forgotten) {
    throw badUse(`--${name} needs a value.`, value || 'nothing', `--${name} ${option.value}`);
  }
  return value;
}

function unknownOption(found: string, options: Options): MeterpairError {
  const known = Object.entries(options).map(([name, { value }]) =>
    value === undefined ? `--${name}` : `--${name} ${value}`,
  );
  const last = known.pop();
  return badUse('There is no such option.', found, `${known.join(', ')} or ${last}`);
}

/** @throws command-line where more stands there than has a name, or something empty */
function requireAtMost(places: readonly string[], names: readonly string[]): void {
  const empty = places.indexOf('');
  if (empty >= 0) throw badUse(`${names[empty] ?? 'A name'} is empty.`, '""', names.join(' '));
  if (places.length <= names.length) return;
  throw badUse(
    names.length === 1 ? `One ${names[0]} at a time.` : 'There are too many names.',
    places.map((place) => JSON.stringify(place)).join(' and '),
    `${names.join(' ')}; quotes around a name with a space in it`,
  );
}

/**
 * A number as somebody types it, with a decimal point or comma.
 *
 * @throws command-line, naming the option, for what is none
 */
export function typedNumber(name: string, text: string): number {
  if (/^[+-]?[\d.,]+\s*[a-zµμ%]+$/iu.test(text.trim())) {
    throw badUse(`${name} takes a number without its unit.`, text, 'a plain number such as 46.2');
  }
  const cell = numberCell(text, { separator: ';', marks: { comma: 'none', point: 'none' } });
  if ('value' in cell) return cell.value;
  throw badUse(`${name}: ${cell.problem}`, text, cell.expected);
}

export function badUse(message: string, found: string, expected: string): MeterpairError {
  return new MeterpairError({ code: 'command-line', message, found, expected });
}
