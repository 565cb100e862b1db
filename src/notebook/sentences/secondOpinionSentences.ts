import { KIND_WORDS } from '../../findings/findingWords.js';
import { formatNumber } from '../../findings/formatNumber.js';
import { formatUncertain } from '../../findings/formatUncertain.js';
import { labelWords } from '../../findings/words.js';
import { compatibilityScore, type StatedPower } from '../../opinions/secondOpinion.js';
import type { Result, Study } from '../../vocabulary.js';

/** The reference beside a value from elsewhere, both with their uncertainty. */
export interface ComparedPair {
  readonly name: string;
  readonly ours: StatedPower;
  readonly theirs: StatedPower;
}

/** Stands in where a study has no value with an uncertainty. */
const INVENTED: ComparedPair = {
  name: 'An invented pair',
  ours: { value_mW: 48, standardUncertainty_mW: 1.2 },
  theirs: { value_mW: 52, standardUncertainty_mW: 0.8 },
};

/** The pair that lies farthest apart: the one to think about. */
export function pairFarthestApart(result: Result): ComparedPair {
  const pairs = result.opinions.flatMap((opinion) =>
    opinion.comparisons.flatMap((one) =>
      one.meter !== 'reference' || one.value_mW === null || one.zeta === null
        ? []
        : [
            {
              zeta: Math.abs(one.zeta),
              pair: {
                name: `The reference and the ${KIND_WORDS[opinion.kind]} on "${opinion.source}"`,
                ours: {
                  value_mW: one.value_mW,
                  standardUncertainty_mW: one.standard_uncertainty_mW,
                },
                theirs: {
                  value_mW: opinion.value_mW,
                  standardUncertainty_mW: opinion.standard_uncertainty_mW,
                },
              },
            },
          ],
    ),
  );
  const [first] = pairs.sort((a, b) => b.zeta - a.zeta);
  return first?.pair ?? INVENTED;
}

/** To be read before anything is shown with a pair that is not the study's; nothing where it has one. */
export function standInSentences(result: Result): readonly string[] {
  const { name, ours, theirs } = pairFarthestApart(result);
  if (name !== INVENTED.name) return [];
  return [
    `This study has no value with an uncertainty. What follows on agreement and on a missing uncertainty is shown on an invented pair instead, a meter at ${formatUncertain(ours.value_mW, ours.standardUncertainty_mW)} mW and a value of ${formatUncertain(theirs.value_mW, theirs.standardUncertainty_mW)} mW, and says nothing about your meters.`,
  ];
}

/** A pair, as it is and had nobody stated the uncertainty of their value. */
export function unstatedSentences({ name, ours, theirs }: ComparedPair): readonly string[] {
  const unstated = { ...theirs, standardUncertainty_mW: null };
  return [
    `${name}: ${formatUncertain(ours.value_mW, ours.standardUncertainty_mW)} mW against ${formatUncertain(theirs.value_mW, theirs.standardUncertainty_mW)} mW, ± one standard uncertainty.`,
    `As stated: ${compatibilityScore({ ours, theirs }).why}`,
    `Without their uncertainty: ${compatibilityScore({ ours, theirs: unstated }).why}`,
  ];
}

/** What the labels promise, beside what the meters showed. */
export function labelSentences(study: Study, result: Result): readonly string[] {
  return study.sources.map((source) => {
    const labelled = source.label_class !== null || source.label_max_mW !== null;
    if (!labelled) return `${source.name}: no label stated.`;
    const shown = result.series
      .filter((one) => one.source === source.name)
      .flatMap((one) => [...(one.reference_range_mW ?? []), ...(one.candidate_range_mW ?? [])]);
    const readings =
      shown.length === 0
        ? 'No reading to set beside it.'
        : `The meters showed ${formatNumber(Math.min(...shown))} to ${formatNumber(Math.max(...shown))} mW.`;
    return `${source.name}: label ${labelWords(source)}. ${readings}`;
  });
}
