/** The points behind the figure of second opinions. */
import { KIND_WORDS } from '../findings/findingWords.js';
import { formatInterval, formatNumber } from '../findings/formatNumber.js';
import { METERS } from '../record/meters.js';
import type { OpinionResult, Result } from '../vocabulary.js';

export type PointKind = 'reference' | 'candidate' | 'value' | 'bound';

export interface OpinionPoint {
  readonly kind: PointKind;
  readonly label: string;
  /** Off the reference, in percent of it; `low` and `high`: two standard uncertainties, if stated. */
  readonly percent: number;
  readonly low: number;
  readonly high: number;
  readonly stated: boolean;
  readonly hover: string;
}

export interface OpinionPanel {
  readonly source: string;
  readonly reference_mW: number;
  readonly points: readonly OpinionPoint[];
}

/** One panel a source that has a power to compare with. */
export function opinionPanels(result: Result): readonly OpinionPanel[] {
  const sources = [...new Set(result.opinions.map((one) => one.source))];
  return sources.flatMap((source) => {
    const own = result.opinions.filter(
      (one) => one.source === source && one.comparisons.length > 0,
    );
    // A maker's value is held against the highest power, all others against the only one.
    const lead = own.find((one) => one.kind !== 'maker') ?? own[0];
    const meters = METERS.flatMap((meter) => {
      const found = lead?.comparisons.find((one) => one.meter === meter);
      return found === undefined || found.value_mW === null
        ? []
        : [{ meter, value: found.value_mW, u: found.standard_uncertainty_mW }];
    });
    const reference = meters.find((one) => one.meter === 'reference');
    if (reference === undefined) return [];
    const point = pointAgainst(reference.value);
    return [
      {
        source,
        reference_mW: reference.value,
        points: [
          ...meters.map(({ meter, value, u }) => point(meter, meter, value, u)),
          ...own.map((one) =>
            point(kindOf(one), labelOf(one), one.value_mW, one.standard_uncertainty_mW),
          ),
        ],
      },
    ];
  });
}

const kindOf = ({ kind }: OpinionResult): PointKind => (kind === 'maker' ? 'bound' : 'value');

const labelOf = ({ kind }: OpinionResult) => (kind === 'maker' ? 'as new' : KIND_WORDS[kind]);

function pointAgainst(reference: number) {
  return (kind: PointKind, label: string, value: number, u: number | null): OpinionPoint => {
    const percent = (mW: number) => 100 * (mW / reference - 1);
    const [low, high] = [value - 2 * (u ?? 0), value + 2 * (u ?? 0)];
    const interval = u === null ? 'no uncertainty stated' : `${formatInterval(low, high)} mW`;
    return {
      kind,
      label,
      percent: percent(value),
      low: percent(low),
      high: percent(high),
      stated: u !== null,
      hover: `${label}: ${formatNumber(value)} mW (${interval})`,
    };
  };
}
