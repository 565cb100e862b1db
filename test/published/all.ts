import type { PublishedSource } from './figure.js';

/** The sources of every list of cases in this folder, by the name of their test. */
export async function allSources(
  names: readonly string[],
): Promise<{ readonly name: string; readonly sources: readonly PublishedSource[] }[]> {
  return Promise.all(
    names.map(async (name) => {
      const { sources }: { sources: readonly PublishedSource[] } = await import(
        `./${name}.cases.ts`
      );
      return { name, sources };
    }),
  );
}
