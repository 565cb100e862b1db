export function contrasts(): readonly {
  readonly what: string;
  readonly contrast: number;
  readonly grey: boolean;
}[];
export function sizes(): {
  readonly digits: number | null;
  readonly clock: number | null;
  readonly over: number;
};
export function countTones(): void;
export function tonesSet(): readonly { readonly hertz: number; readonly in_s: number }[];
export function says(pattern: string): boolean;
export function dueNow(): boolean;
export function recordFilm(): Promise<number[]>;
