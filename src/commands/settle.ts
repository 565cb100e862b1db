import { resolve } from 'node:path';
import { settlingFindings } from '../findings/settlingFindings.js';
import { readStudy } from '../record/readStudy.js';
import { badUse, typedNumber, verb } from './options.js';

const HELP = `Says from traces.csv how long each sensor takes to settle, how long to wait, and how steady each source is.

  npx meterpair settle data-demo/3-settling
  npx meterpair settle FOLDER --may-lack 0.5 --over 1200

--may-lack PERCENT   what may be missing from a reading when it is taken (1)
--over S             average the power over the last so many seconds; without it, from the settled sensor on
--within PERCENT     how near to its mean a source has to stay to count as warm (1)
`;

/** Time constants, waiting times, and the steadiness of the sources. */
export const settle = verb({
  help: HELP,
  options: {
    'may-lack': { value: 'PERCENT' },
    over: { value: 'S' },
    within: { value: 'PERCENT' },
  },
  places: ['FOLDER'],
  run: async ({ places: [folder], options }, io) => {
    if (folder === undefined) throw badUse('Which study?', 'nothing', 'its folder');
    const wishes = {
      mayLack: fraction('--may-lack', options['may-lack']),
      within: fraction('--within', options.within),
      over_s: options.over === null ? null : above0('--over', options.over),
    };
    const study = await readStudy(resolve(io.from, folder));
    for (const { title, sentences } of settlingFindings(study, wishes)) {
      io.out(`${title}\n${sentences.map((sentence) => `  ${sentence}\n`).join('')}`);
    }
    return 0;
  },
});

function fraction(name: string, text: string | null): number {
  if (text === null) return 0.01;
  const value = above0(name, text) / 100;
  if (value < 1) return value;
  throw badUse(`${name} is a part, in percent.`, text, 'less than 100');
}

function above0(name: string, text: string): number {
  const value = typedNumber(name, text);
  if (value > 0) return value;
  throw badUse(`${name} needs a number above 0.`, text, `${name} 1`);
}
