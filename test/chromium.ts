/**
 * Tests in a real browser. Where Chromium is missing one test says so in its name; with
 * METERPAIR_FULL_CHECKS=1 a missing Chromium is a failure.
 */
import { describe, expect, it } from 'vitest';
import { chromiumPath } from '../src/notebook/chromiumPath.js';

export const CHROMIUM_ARGUMENTS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Runs tests with the path of Chromium, or says that they were not run. */
export function onChromium(what: string, tests: (path: string) => void): void {
  const found = chromiumPath();
  if (found !== null) {
    tests(found);
    return;
  }
  describe(`${what} in Chromium`, () => {
    if (process.env.METERPAIR_FULL_CHECKS === '1') {
      it('needs Chromium on the PATH, because METERPAIR_FULL_CHECKS=1 asks for full checks', () => {
        expect(found).not.toBeNull();
      });
    } else {
      it('not run here: Chromium is missing', () => {
        console.warn(`Not opened in a browser, because Chromium is not on the PATH: ${what}.`);
        expect(found).toBeNull();
      });
    }
  });
}
