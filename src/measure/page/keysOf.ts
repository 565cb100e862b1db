import type { Shown } from './shown.js';

/** The keys that do something now. */
export function keysOf({ stage, sound, view }: Shown): string {
  const step = view?.state?.step;
  const always = `T take a run back · S sound ${sound ? 'off' : 'on'}`;
  switch (stage) {
    case 'cautions':
      return 'U understood, and done';
    case 'before':
      return `Enter ready · S sound ${sound ? 'off' : 'on'}`;
    case 'beam':
      return `Esc this run anew · ${always}`;
    case 'setting':
      return `Enter as named · Esc this run anew · ${always}`;
    case 'zero':
    case 'peak':
      return `Enter alone: not noted · Esc this run anew · ${always}`;
    case 'reading':
    case 'question':
      return `Esc this run anew · ${always}`;
    case 'take-back':
      return '↑ ↓ choose · Enter · Esc back';
    case 'close':
      return `C close the series and see K · M ${step?.do === 'close' ? step.more || step.block : ''} more laps · T take a run back`;
    case 'compare':
      return 'Enter compare and write the report';
    default:
      return '';
  }
}
