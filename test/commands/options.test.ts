import { sep } from 'node:path';
import { describe, expect, test } from 'vitest';
import { COMPARE, compareWishes } from '../../src/commands/compare.js';
import { commandLine } from '../../src/commands/options.js';
import { MeterpairError } from '../../src/error.js';

const at = (...parts: string[]) => ['', 'home', 'me', ...parts].join(sep);

const wishesOf = (args: readonly string[]) => compareWishes(commandLine(args, COMPARE), at());

describe('the command line of compare', () => {
  test('without arguments means the demo study and the usual output folder', () => {
    expect(wishesOf([])).toEqual({
      folder: null,
      out: null,
      earlier: [],
      figures: false,
      notebook: true,
    });
  });

  test.each([
    [['mine'], at('mine'), null, []],
    [['mine', '--out', 'there'], at('mine'), at('there'), []],
    [['--out=there', 'mine'], at('mine'), at('there'), []],
    [['it\'s a "study"'], at('it\'s a "study"'), null, []],
    [['mine', '--out=-odd'], at('mine'), at('-odd'), []],
    [['mine', '--earlier', 'old.json'], at('mine'), null, [at('old.json')]],
    [['--earlier=old.json', '--out', 'there', 'mine'], at('mine'), at('there'), [at('old.json')]],
    [
      ['--earlier', 'z.json', 'mine', '--earlier=a.json', '--earlier', 'm.json'],
      at('mine'),
      null,
      [at('z.json'), at('a.json'), at('m.json')],
    ],
  ])('%j counts paths from where it was typed', (args, folder, out, earlier) => {
    expect(wishesOf(args)).toMatchObject({ folder, out, earlier });
  });

  test.each([[['--help']], [['-h']], [['mine', '--help']]])('%j asks for help', (args) => {
    expect(commandLine(args, COMPARE).help).toBe(true);
  });

  test.each([
    [['--outt', 'x'], '--outt'],
    [['-x'], '-x'],
    [['a', 'b'], '"a" and "b"'],
    [['--out'], '--out'],
    [['--out', '--help'], '--help'],
    [['--out', 'x', '--out', 'y'], 'x and y'],
    [['mine', '--earlier'], 'nothing'],
    [['mine', '--earlier', '--out', 'x'], '--out'],
    [['--earlier', 'x', '--earlier', 'y', '--earlier', './x'], at('x')],
    [[''], '""'],
  ])('%j is refused, naming %s', (args, named) => {
    const call = () => wishesOf(args);
    expect(call).toThrow(MeterpairError);
    expect(call).toThrow(named);
  });
});
