/** Whether the difference changes with the level, and which limits of agreement serve. */
import type { AgreementAgainstLevel, AgreementAtLevel, AgreementResult } from '../vocabulary.js';
import { formatInterval, formatNumber, formatWithin } from './formatNumber.js';

/** "%" or "mW": the unit of the limits at the levels. */
export function unitOfLevels({ scale }: AgreementAgainstLevel): string {
  return scale === 'mW' ? 'mW' : '%';
}

/** What changes, which limits serve, and what each level has. */
export function levelSentences(agreement: AgreementResult): readonly string[] {
  const { against_level: found } = agreement;
  if (found.description === 'not-computable') return [`Difference against level: ${found.why}`];
  const head = `Difference against level, ${rangeText(found)}: ${changeWords(found)}`;
  return [
    `${head} ${servesWords(agreement)} ${found.why}`,
    ...(found.description === 'changes-with-level'
      ? [`${found.levels.map((one) => levelText(one, unitOfLevels(found))).join('; ')}.`]
      : []),
  ];
}

function rangeText({ levels }: AgreementAgainstLevel): string {
  const [low, high] = [levels[0], levels[levels.length - 1]].map((one) =>
    formatNumber(one?.level_mW ?? null, { digits: 3 }),
  );
  return `${low} to ${high} mW`;
}

function changeWords({ bias_change, spread_change }: AgreementAgainstLevel): string {
  const parts = [
    ['bias', bias_change],
    ['spread', spread_change],
  ] as const;
  const named = (change: string) => parts.filter(([, one]) => one === change).map(([name]) => name);
  const [shown, colour] = [named('shown'), named('confounded')];
  const sentences = [
    shown.length === 0
      ? 'no change with the power is shown.'
      : `${shown.join(' and ')} ${shown.length === 1 ? 'changes' : 'change'} with the power.`,
    ...(colour.length === 0
      ? []
      : [`A slope of ${colour.join(' and ')} is there, and may be one of colour.`]),
  ];
  return sentences.join(' ');
}

function servesWords({ against_level: found, limits_mW }: AgreementResult): string {
  switch (found.description) {
    case 'constant-percent':
      return 'Constant limits in percent serve.';
    case 'constant-mW':
      return `Constant limits in mW serve (${formatInterval(limits_mW.low, limits_mW.high)} mW for one more lap); in percent they would change with the level.`;
    case 'changes-with-level':
      return 'One pair of limits for all powers would be too wide at one end and too narrow at the other: take those of the level.';
    case 'not-computable':
      return '';
  }
}

function levelText(one: AgreementAtLevel, unit: string): string {
  const bias = formatWithin(one.bias, one.low, one.high);
  const limits =
    one.low === null ? 'no limits' : `limits ${formatInterval(one.low, one.high)} ${unit}`;
  return `At ${formatNumber(one.level_mW, { digits: 3 })} mW: bias ${bias} ${unit}, ${limits}`;
}
