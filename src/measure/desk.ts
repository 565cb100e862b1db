/** The writer of one folder: reads it as it stands, and puts one change after the other to disk. */
import { z } from 'zod';
import { MeterpairError } from '../error.js';
import { benchState } from './benchState.js';
import { addLaps, closeSeries, takeBack } from './changeSeries.js';
import { type Answer, enterRun } from './enterRun.js';
import { type Filmed, filmRun } from './filmRun.js';
import { type FolderFiles, readFolder, replaceFile } from './folder.js';
import type { Lock } from './lock.js';
import type { Comparison, Reply, Request, View } from './messages.js';

export interface DeskOptions {
  readonly folder: string;
  /** Wanted U of a corrected reading, a fraction; `null`: the tolerance of the study. */
  readonly wanted: number | null;
  readonly lock: Pick<Lock, 'held'>;
  /** What the page is to know of the folder from the start. */
  readonly notes?: readonly string[];
  /** Compares; gives line after line to `tell`, and `true` when it went well. */
  readonly compare: (tell: (line: string) => void) => Promise<boolean>;
}

export interface Desk {
  readonly view: () => Promise<View>;
  readonly ask: (request: Request) => Promise<Reply>;
}

const mark = z.string().max(64);
const text = z.string().max(400);
const row = z.number().int().min(1).max(1e6);

/** What may come from the page; anything else is refused before it is looked at. */
export const requestSchema: z.ZodType<Request> = z.discriminatedUnion('do', [
  z.strictObject({
    do: z.literal('enter'),
    mark,
    row,
    reading: text,
    zero: text,
    peak: text,
    setting: text,
    started_ms: z.number().min(0).max(8e15).nullable(),
    ahead_min: z.number().int().min(-900).max(900),
    checked: z.boolean(),
  }),
  z.strictObject({ do: z.literal('take-back'), mark, row, reason: text }),
  z.strictObject({
    do: z.literal('film'),
    mark,
    row,
    points: z
      .array(z.strictObject({ elapsed_s: z.number().min(-1e5).max(1e5), reading: text.max(30) }))
      .max(300),
  }),
  z.strictObject({ do: z.literal('close'), mark }),
  z.strictObject({ do: z.literal('more'), mark, laps: z.number().int().min(1).max(100) }),
  z.strictObject({ do: z.literal('compare'), mark }),
]);

export function deskOf(options: DeskOptions): Desk {
  let last: Promise<unknown> = Promise.resolve();
  let comparison: Comparison | null = null;
  let news = 0;
  let known: { readonly mark: string; readonly view: Omit<View, 'comparison' | 'version'> } | null =
    null;

  const view = async (): Promise<View> => {
    const version = (of: string) => `${of} ${news}`;
    const current = await readOrSay(options.folder);
    if ('faults' in current) {
      const { faults } = current;
      const notes = options.notes ?? [];
      const of = faults.join();
      return { mark: '', version: version(of), state: null, faults, notes, comparison };
    }
    if (known?.mark !== current.mark)
      known = { mark: current.mark, view: viewOf(current, options) };
    return { ...known.view, version: version(current.mark), comparison };
  };

  const write = async (request: Request): Promise<Reply> => {
    const refused = async (message: string): Promise<Reply> => ({
      kind: 'refused',
      message,
      view: await view(),
    });
    const current = await readOrSay(options.folder);
    if ('faults' in current) return refused('The files cannot be read as they stand.');
    if (current.mark !== request.mark) return refused(CHANGED);
    if (!(await options.lock.held())) return refused(LOST);
    if (request.do === 'compare') return startComparison(refused);
    const answer = answerTo(current, request);
    if (answer.kind === 'question') return answer;
    if (answer.kind === 'refused') return refused(answer.message);
    const done =
      'traces' in answer
        ? await replaceFile(options.folder, 'traces.csv', current.mark, answer.traces)
        : await replaceFile(options.folder, 'runs.csv', current.mark, answer.runs);
    return done === 'changed' ? refused(CHANGED) : { kind: 'done', view: await view() };
  };

  const startComparison = async (refused: (message: string) => Promise<Reply>): Promise<Reply> => {
    if (comparison?.state === 'running') return refused('The comparison is running already.');
    let lines: readonly string[] = [];
    const set = (state: Comparison['state']) => {
      comparison = { state, lines };
      news += 1;
    };
    set('running');
    const tell = (line: string) => {
      lines = [...lines, line].slice(-40);
      set('running');
    };
    options
      .compare(tell)
      .then((good) => set(good ? 'done' : 'failed'))
      .catch((error: unknown) => {
        tell(String(error));
        set('failed');
      });
    return { kind: 'done', view: await view() };
  };

  return {
    view,
    // One after the other: two tabs are two askers, and the file has one writer.
    ask: (request) => {
      const next = last.then(() => write(request));
      last = next.catch(() => undefined);
      return next;
    },
  };
}

const CHANGED =
  'The files were changed meanwhile, so nothing was written. This is how they stand now: look, and type it again.';
const LOST =
  'The lock of this folder is gone or somebody else has it, so nothing was written. Start measure again.';

async function readOrSay(
  folder: string,
): Promise<FolderFiles | { readonly faults: readonly string[] }> {
  try {
    return await readFolder(folder);
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return { faults: error.message.split('\n') };
  }
}

function viewOf(files: FolderFiles, options: DeskOptions): Omit<View, 'comparison' | 'version'> {
  const notes = [
    ...(options.notes ?? []),
    ...(files.encodingGuessed
      ? [
          'runs.csv is not saved as UTF-8; with the first entry it will be. Look at its accented letters then.',
        ]
      : []),
  ];
  const { mark: of } = files;
  try {
    const state = benchState({ ...files, wanted: options.wanted });
    return { mark: of, state, faults: [], notes };
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return { mark: of, state: null, faults: error.message.split('\n'), notes };
  }
}

function answerTo(
  files: FolderFiles,
  request: Exclude<Request, { do: 'compare' }>,
): Answer | Filmed {
  try {
    switch (request.do) {
      case 'enter':
        return enterRun(files, request);
      case 'take-back':
        return takeBack(files, request);
      case 'film':
        return filmRun(files, request);
      case 'close':
        return closeSeries(files);
      case 'more':
        return addLaps(files, request);
    }
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return { kind: 'refused', message: error.message };
  }
}
