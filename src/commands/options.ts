import { parseArgs } from 'node:util';
import { MeterpairError } from '../error.js';
import { numberCell } from '../record/numberCell.js';

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

export interface CommandLine<O extends Options> {
  /** The arguments that are no options, in order. */
  readonly places: readonly string[];
  readonly options: OptionValues<O>;
  /** `-h` or `--help` was among them. */
  readonly help: boolean;
}

/**
 * Reads the arguments of a command: options before, between and after the places, `--name value` or
 * `--name=value`.
 *
 * @param options by name, without `help`, which every command has
 * @throws command-line with what was found and what would be right
 */
export function readOptions<const O extends Options>(
  args: readonly string[],
  options: O,
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
  return {
    places,
    options: Object.fromEntries(values) as OptionValues<O>,
    help: found.has('help'),
  };
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

/**
 * One of the places of a command, or `null` where it was left out.
 *
 * @param places what stands on the command line beside the options
 * @param names what may stand there, in order, for the message
 * @throws command-line when there are more than names, or one is empty
 */
export function requireAtMost(places: readonly string[], names: readonly string[]): void {
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
  const cell = numberCell(text, { separator: ';', marks: { comma: 'none', point: 'none' } });
  if ('value' in cell) return cell.value;
  throw badUse(`${name}: ${cell.problem}`, text, cell.expected);
}

export function badUse(message: string, found: string, expected: string): MeterpairError {
  return new MeterpairError({ code: 'command-line', message, found, expected });
}
