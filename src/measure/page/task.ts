/** The one thing to do now. */
import type { Comparison } from '../messages.js';
import type { RunStep } from '../nextRun.js';
import { REASONS } from '../words.js';
import { element, lines, para } from './dom.js';
import { filmTask } from './filmTask.js';
import type { Fields, Shown } from './shown.js';
import type { Memory, Stage } from './stage.js';

export function task(shown: Shown, fields: Fields): HTMLElement {
  const { view, stage } = shown;
  const state = view?.state ?? null;
  const section = (...children: readonly (Node | string | null)[]) =>
    element('section', { class: 'task', 'data-stage': stage }, ...children);
  if (view === null) return section(para('do', 'Reading the files …'));
  if (state === null) {
    return section(
      para('do', 'The files cannot be read as they stand.'),
      ...lines('p', view.faults),
      element('p', {}, 'Mend them; they are read again at once.'),
    );
  }
  if (stage === 'take-back') return section(...takeBack(shown, fields));
  if (stage === 'film') return section(...filmTask(shown, fields));
  const { step } = state;
  if (step.do === 'close') {
    return section(para('do', 'The planned laps are done.'), ...told(step.sentences));
  }
  if (step.do === 'compare') return section(...comparison(shown));
  if (stage === 'cautions') {
    return section(
      ...lines('p', state.closed),
      para('do', `Before "${step.source}" is switched on`),
      element('ul', {}, ...lines('li', step.cautions)),
    );
  }
  if (stage === 'before') {
    return section(...lines('p', state.closed), para('do', step.before ?? ''));
  }
  return section(...runTask(step, shown, fields));
}

/** A run while it is taken: which meter, what to do, and the number to be typed. */
function runTask(step: RunStep, { stage, memory }: Shown, fields: Fields) {
  return [
    para(
      'meter',
      element('span', { class: step.meter, 'aria-hidden': 'true' }),
      step.meter === 'reference' ? 'Reference' : 'Candidate',
      element('small', {}, step.meter_name),
      step.set === null || step.asks.setting ? null : element('small', {}, step.set),
    ),
    element('p', { class: 'do', id: 'do' }, doing(stage, step, memory)),
    ...(stage === 'question' && memory.question !== null
      ? lines('p', [memory.question.message, 'The same number again is kept, marked as checked.'])
      : []),
    stage === 'reading' ? fields.clock : null,
    stage === 'beam' || stage === 'send'
      ? null
      : para('digits', fields.input, element('span', {}, stage === 'setting' ? 'nm' : step.unit)),
  ];
}

/** The last step while it runs; its steps no more once it has ended. */
function saidSoFar({ state, lines: all }: Comparison): readonly string[] {
  if (state === 'running') return all.slice(-1);
  return all.filter((line) => !/^\s*\d+\/\d+ /.test(line));
}

const told = (sentences: readonly string[]) => sentences.map((sentence) => para('told', sentence));

function doing(stage: Stage, step: RunStep, { question }: Memory): string {
  if (stage === 'question' && question !== null) {
    return `${question.typed} ${step.unit}? Look, and type the ${question.quantity} again.`;
  }
  if (stage === 'setting')
    return `Wavelength: ${step.set}. Enter when it is, or what it is set to.`;
  if (stage === 'zero') return 'Beam blocked: zero, then Enter.';
  if (stage === 'beam') return 'Space as the beam goes on.';
  if (stage === 'reading') return 'Reading, then Enter.';
  if (stage === 'peak') return 'Block the beam. Highest seen, then Enter.';
  return 'Writing …';
}

function takeBack({ view, memory }: Shown, fields: Fields): readonly HTMLElement[] {
  const state = view?.state;
  const { takingBack } = memory;
  if (!state || takingBack === null) return [];
  const run = state.runs.find(({ row }) => row === takingBack.row);
  const named = run === undefined ? '' : `run ${run.run}, ${run.meter}, ${run.shown}`;
  if (takingBack.choose === 'run') {
    return [
      para('do', 'Which run went wrong?'),
      element(
        'ol',
        { class: 'runs', reversed: '' },
        ...[...state.runs]
          .reverse()
          .map((one) =>
            element(
              'li',
              one.row === takingBack.row ? { 'aria-current': 'true' } : {},
              `${one.row === takingBack.row ? '▶ ' : ''}run ${one.run}, ${one.meter}, ${one.shown}${one.exclude === null ? '' : ` (left out: ${one.exclude})`}`,
            ),
          ),
      ),
    ];
  }
  const asked = para('do', `Why is ${named} left out?`);
  if (takingBack.choose === 'words') {
    return [asked, para('words', fields.input)];
  }
  const words = [...REASONS, 'own words'];
  return [
    asked,
    element(
      'ul',
      { class: 'runs' },
      ...lines(
        'li',
        words.map((reason, index) => `${index + 1}  ${reason}`),
      ),
    ),
    element(
      'p',
      {},
      'Never because the number looks odd: its row and number stay, with the reason.',
    ),
  ];
}

function comparison({ view }: Shown): readonly HTMLElement[] {
  const done = view?.comparison ?? null;
  const closed = told(view?.state?.closed ?? []);
  if (done === null) {
    return [para('do', 'Every planned series is closed.'), ...closed];
  }
  const said = { running: 'Comparing …', done: 'Compared.', failed: 'The comparison stopped.' };
  return [
    para('do', said[done.state]),
    element('pre', { tabindex: '0' }, saidSoFar(done).join('\n')),
    ...closed,
  ];
}
