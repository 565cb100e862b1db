/** What the page may ask for; anything else is refused before it is looked at. */
import * as z from 'zod';

const mark = z.string().max(64);
const text = z.string().max(400);
const row = z.number().int().min(1).max(1e6);

/** `mark` is that of the files that the page has seen, `row` a row of runs.csv. */
export const requestSchema = z.discriminatedUnion('do', [
  z.strictObject({
    do: z.literal('enter'),
    mark,
    /** The one that the page took to be the next. */
    row,
    /** As typed; empty: not noted. */
    reading: text,
    zero: text,
    peak: text,
    setting: text,
    /** When the beam went on, ms since 1970; `null`: nobody knows, as of a film without a time. */
    started_ms: z.number().min(0).max(8e15).nullable(),
    /** Minutes that the local clock is ahead of UTC. */
    ahead_min: z.number().int().min(-900).max(900),
    /** Whether an unlikely entry was typed twice, so that it is what the display showed. */
    checked: z.boolean(),
  }),
  z.strictObject({ do: z.literal('take-back'), mark, row, reason: text }),
  z.strictObject({
    do: z.literal('film'),
    mark,
    row,
    /** Seconds since the first lit frame, and what the display shows, in the unit of the run's row. */
    points: z
      .array(z.strictObject({ elapsed_s: z.number().min(-1e5).max(1e5), reading: text.max(30) }))
      .max(300),
  }),
  z.strictObject({ do: z.literal('close'), mark }),
  z.strictObject({ do: z.literal('more'), mark, laps: z.number().int().min(1).max(100) }),
  z.strictObject({ do: z.literal('compare'), mark }),
]);

/** Each is one POST. */
export type Request = Readonly<z.infer<typeof requestSchema>>;

type Of<Do extends Request['do']> = Omit<Extract<Request, { readonly do: Do }>, 'do' | 'mark'>;

/** What was typed at the bench for one run. */
export type Entry = Of<'enter'>;
export type FilmedPoint = Of<'film'>['points'][number];
