/** The writer of one folder: reads it as it stands, and puts one change after the other to disk. */
import { MeterpairError } from '../error.js';
import { type Answer, answerOf } from './answer.js';
import { benchState } from './benchState.js';
import { addLaps, closeSeries, takeBack } from './changeSeries.js';
import { comparing } from './comparison.js';
import { enterRun } from './enterRun.js';
import { filmRun } from './filmRun.js';
import { type FolderFiles, readFolder, replaceFile } from './folder.js';
import type { Lock } from './lock.js';
import type { Reply, View } from './messages.js';
import type { Request } from './requests.js';

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

export function deskOf(options: DeskOptions): Desk {
  let last: Promise<unknown> = Promise.resolve();
  const comparison = comparing(options.compare);
  let known: { readonly mark: string; readonly view: Omit<View, 'comparison' | 'version'> } | null =
    null;

  const view = async (): Promise<View> => {
    const standing = { comparison: comparison.now() };
    const version = (of: string) => `${of} ${comparison.news()}`;
    const current = await readOrSay(options.folder);
    if ('faults' in current) {
      const { faults } = current;
      const notes = options.notes ?? [];
      const of = faults.join();
      return { mark: '', version: version(of), state: null, faults, notes, ...standing };
    }
    if (known?.mark !== current.mark)
      known = { mark: current.mark, view: viewOf(current, options) };
    return { ...known.view, version: version(current.mark), ...standing };
  };

  const write = async (request: Request): Promise<Reply> => {
    const refused = async (message: string): Promise<Reply> => ({
      kind: 'refused',
      message,
      view: await view(),
    });
    const done = async (): Promise<Reply> => ({ kind: 'done', view: await view() });
    const current = await readOrSay(options.folder);
    if ('faults' in current) return refused('The files cannot be read as they stand.');
    if (current.mark !== request.mark) return refused(CHANGED);
    if (!(await options.lock.held())) return refused(LOST);
    if (request.do === 'compare') {
      return comparison.start() ? done() : refused('The comparison is running already.');
    }
    const answer = answerOf(() => answerTo(current, request));
    if (answer.kind === 'question') return answer;
    if (answer.kind === 'refused') return refused(answer.message);
    const { file, text } = answer;
    const replaced = await replaceFile(options.folder, file, current.mark, text);
    return replaced === 'changed' ? refused(CHANGED) : done();
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

function answerTo(files: FolderFiles, request: Exclude<Request, { do: 'compare' }>): Answer {
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
}
