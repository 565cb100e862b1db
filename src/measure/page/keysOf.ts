import type { Shown } from './shown.js';

/** The keys that do something now. */
export function keysOf({ stage, sound, view, memory }: Shown): string {
  const step = view?.state?.step;
  const always = `T take a run back · F film · S sound ${sound ? 'off' : 'on'}`;
  switch (stage) {
    case 'cautions':
      return 'U understood, and done';
    case 'before':
      return `Enter ready · F film · S sound ${sound ? 'off' : 'on'}`;
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
    case 'film':
      if (memory.film?.when) return 'Enter · Esc back to the film';
      return '← → a frame · ↑ ↓ a second · O open · L first lit frame · G reading time · digits Enter · D drop the last · P N other run · W write · Esc leave';
    case 'close':
      return `C close the series and see K · M ${step?.do === 'close' ? step.more || step.block : ''} more laps · T take a run back`;
    case 'compare':
      return 'Enter compare and write the report · F film';
    default:
      return '';
  }
}
