import type { View } from '../messages.js';
import type { Memory, Stage } from './stage.js';

/** All that a screen is drawn from. */
export interface Shown {
  readonly view: View | null;
  readonly memory: Memory;
  readonly stage: Stage;
  /** What happened last, in a sentence. */
  readonly message: string;
  readonly connected: boolean;
  readonly sound: boolean;
  /** Room for the plot, px. */
  readonly width: number;
}

/** The field to type into; the same one all the time, so that no key is lost while the page changes. */
export interface Fields {
  readonly input: HTMLInputElement;
  readonly clock: HTMLElement;
  readonly video: HTMLVideoElement;
}
