// For `npm run mutate -- ROOM --sample N`: all but N of the faults are passed over, as if they did not
// compile. Which N hangs on the seed and on the faults alone, so every machine draws the same.
import { createHash } from 'node:crypto';
import { CheckStatus } from '@stryker-mutator/api/check';
import { declareValuePlugin, PluginKind } from '@stryker-mutator/api/plugin';

const { MUTATE_SAMPLE: size, MUTATE_SEED: seed } = process.env;

/** A lot for each fault: N faults with the lowest lots are a simple random sample. */
function lot({ fileName, location, mutatorName, replacement }) {
  const file = fileName.replaceAll('\\', '/').split('/src/').at(-1);
  return createHash('sha256')
    .update(JSON.stringify([seed, file, location, mutatorName, replacement]))
    .digest('hex');
}

export const strykerPlugins = [
  declareValuePlugin(PluginKind.Checker, 'sample', {
    init: async () => {},
    // All in one group, or `check` would see them one by one.
    group: async (faults) => [faults.map(({ id }) => id)],
    check: async (faults) => {
      const lots = faults.map((fault) => [lot(fault), fault.id]).sort();
      return Object.fromEntries(
        lots.map(([, id], place) => [
          id,
          place < Number(size)
            ? { status: CheckStatus.Passed }
            : { status: CheckStatus.CompileError, reason: 'not in the sample' },
        ]),
      );
    },
  }),
];
