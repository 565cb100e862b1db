/** What the pages themselves say is from memory, has no source or is our own. */
import { readdirSync, readFileSync } from 'node:fs';

const root = new URL('../../', import.meta.url);
const read = (path: string) => readFileSync(new URL(path, root), 'utf8');
const MARK =
  /no source\b|from memory|\bour choice|project's own|\b(?:is|are) ours\b|secondary text|no published case/;

const plain = (text: string) =>
  text
    .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replaceAll('**', '')
    // A list of numbers stands on its own page.
    .replace(/(?:[\d.]+, ){4,}/g, '… ')
    .trim();

/** The marked sentences of a page, what stands in its blocks aside; a short one with the one before it. */
function sentences(path: string): string[] {
  return read(path)
    .replaceAll(/^```[\s\S]*?^```$/gm, '')
    .split('\n')
    .flatMap((line) => (line.startsWith('|') ? line.split('|') : [line]))
    .flatMap((text) => {
      const all = plain(text).split(/(?<=\.)\s+(?=[A-Z`])/);
      return all.flatMap((one, i) => {
        if (!MARK.test(one)) return [];
        return [one.length < 60 && i > 0 ? `${all[i - 1]} ${one}` : one];
      });
    });
}

// The table of fields repeats the methods; what changed is history; performance says "ours" of times.
const LEFT_OUT = [
  'methods/README.md',
  'file-formats.md',
  'changelog.md',
  'performance.md',
  'validation.md',
];

/** A table of the pages and their marked sentences. */
export function marked(): string {
  return readdirSync(new URL('docs/', root), { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => name.endsWith('.md') && !LEFT_OUT.includes(name))
    .sort()
    .flatMap((page) =>
      sentences(`docs/${page}`).map(
        (one, i) =>
          `| ${i === 0 ? `[${page.replace(/^.*\/|\.md$/g, '')}](${page})` : ''} | ${one.replaceAll('|', '\\|')} |`,
      ),
    )
    .join('\n');
}

/** Tests outside this folder, and files of the code, that hold a figure or a formula from memory. */
export function markedFiles(): string {
  return ['src', 'test']
    .flatMap((top) =>
      readdirSync(new URL(top, root), { recursive: true, encoding: 'utf8' }).map(
        (name) => `${top}/${name.replaceAll('\\', '/')}`,
      ),
    )
    .filter((path) => path.endsWith('.ts') && !path.startsWith('test/published/'))
    .filter((path) => read(path).includes('from memory'))
    .sort()
    .map((path) => `\`${path}\``)
    .join(', ');
}
