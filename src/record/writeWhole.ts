import { open } from 'node:fs/promises';

/** A new file, written to its last byte and forced to the disk; one that is there is never written over. */
export async function writeWhole(
  path: string,
  content: string | Buffer,
  mode = 0o666,
): Promise<void> {
  const file = await open(path, 'wx', mode);
  try {
    await file.writeFile(content);
    await file.sync();
  } finally {
    await file.close();
  }
}
