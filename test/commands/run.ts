/** Runs a command as typed in a folder, without a process, and listens. */
import { dispatch } from '../../src/commands/dispatch.js';

/** @param answers to what the command asks, in order; without them nobody sits at a terminal */
export async function runCommand(
  from: string,
  args: readonly string[],
  answers?: readonly string[],
): Promise<{
  readonly code: number;
  readonly out: string;
  readonly err: string;
  readonly asked: readonly string[];
}> {
  const said = { out: '', err: '' };
  const asked: string[] = [];
  const ask = async (question: string) => {
    asked.push(question);
    return answers?.[asked.length - 1] ?? '';
  };
  const code = await dispatch(args, {
    from,
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    columns: null,
    onStop: () => () => undefined,
    ...(answers === undefined ? {} : { ask }),
  });
  return { code, asked, ...said };
}
