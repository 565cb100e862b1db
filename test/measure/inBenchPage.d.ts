export function contrasts(): readonly {
  readonly what: string;
  readonly contrast: number;
  readonly grey: boolean;
}[];
export function sizes(): {
  readonly digits: number | null;
  readonly clock: number | null;
  readonly over: number;
  /** Whether the line of keys lies over the digits. */
  readonly covered: boolean;
};
export function countTones(): void;
export function tonesSet(): readonly { readonly hertz: number; readonly in_s: number }[];
export function says(pattern: string): boolean;
export function dueNow(): boolean;
export function recordFilm(): Promise<number[]>;
