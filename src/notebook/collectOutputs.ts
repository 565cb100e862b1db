import { visibleControls } from '../findings/escape.js';
import { type NotebookOutput, sourceLines } from './notebookFile.js';
import type { DisplayMessage } from './notebookState.js';

/** What a running cell sends: text on a stream, or something to display. */
export type KernelMessage =
  | { readonly stream: 'stdout' | 'stderr'; readonly text: string }
  | {
      readonly display: DisplayMessage;
      /** Whether it takes the place of an earlier display with the same id. */
      readonly update: boolean;
    };

/**
 * The messages of one cell as the outputs of a notebook file: neighbouring texts of one stream
 * joined, displays kept whole, an update in the place of what it updates.
 */
export function collectOutputs(messages: readonly KernelMessage[]): {
  readonly outputs: readonly NotebookOutput[];
  /** What went to the error stream, without the lines that name places in the code. */
  readonly errorText: string;
} {
  const outputs: { readonly id?: string; output: NotebookOutput }[] = [];
  for (const message of messages) {
    if ('stream' in message) {
      const last = outputs.at(-1)?.output;
      if (last?.output_type === 'stream' && last.name === message.stream) {
        const text = sourceLines(last.text.join('') + visibleControls(message.text));
        outputs[outputs.length - 1] = { output: { ...last, text } };
      } else {
        const text = sourceLines(visibleControls(message.text));
        outputs.push({ output: { output_type: 'stream', name: message.stream, text } });
      }
      continue;
    }
    const { data, metadata, transient } = message.display;
    const output: NotebookOutput = { output_type: 'display_data', data: kept(data), metadata };
    const id = transient.display_id;
    const earlier = message.update ? outputs.find((entry) => entry.id === id) : undefined;
    if (earlier) earlier.output = output;
    else outputs.push({ ...(id === undefined ? {} : { id }), output });
  }
  const errors = messages.filter((message) => 'stream' in message && message.stream === 'stderr');
  const errorText = errors.map((message) => ('text' in message ? message.text : '')).join('');
  return { outputs: outputs.map((entry) => entry.output), errorText: withoutPlaces(errorText) };
}

/** Text as lists of lines, with nothing in it that steers a terminal; JSON values as they are. */
function kept(data: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    Object.entries(data).map(([mime, value]) => {
      if (typeof value !== 'string' || mime.endsWith('json')) return [mime, value];
      return [mime, sourceLines(mime === 'text/plain' ? visibleControls(value) : value)];
    }),
  );
}

/** Cuts the stack trace off: it names this machine's folders and the kernel's insides. */
function withoutPlaces(text: string): string {
  const whereThrown = /^evalmachine\.<anonymous>:\d+\n[\s\S]*?\n\n/;
  const message = text.replace(whereThrown, '').split(/\n\s+at /)[0] ?? '';
  return message.trim();
}
