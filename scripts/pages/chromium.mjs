// The browser that takes the pictures of the documentation.
import { chromium } from 'playwright-core';
import { chromiumPath } from '../../dist/inside.js';

export const startChromium = () =>
  chromium.launch({
    executablePath: chromiumPath(),
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-sync'],
  });
