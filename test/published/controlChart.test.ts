import { expect, test } from 'vitest';
import { chart, sources } from './controlChart.cases.js';
import { holds } from './holds.js';

holds(sources);

test('no point lies beyond the limits, as the handbook says', () => {
  expect(chart().points.flatMap((point) => point.signals)).not.toContain('beyond the limits');
});
