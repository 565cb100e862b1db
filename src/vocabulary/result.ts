/** What `analyse` returns and result.json holds. */
import type { AgreementResult } from './agreement.js';
import type { ReChecks, ThenAndNow } from './changes.js';
import type { HazardResult } from './hazard.js';
import type { OpinionResult, ThreeInstruments } from './opinions.js';
import type { PowerResult } from './power.js';
import type { SeriesResult } from './series.js';
import type { Warning } from './study.js';
import type { SuspectResult } from './suspects.js';
import type {
  CommonFactor,
  InfraredResult,
  ReadingKind,
  SettingResult,
  WavelengthResult,
} from './wavelengths.js';

/** What `analyse` returns and result.json holds. */
export interface Result {
  readonly schema: 'meterpair.result/2';
  readonly data_sha256: string;
  /** Of the readings alone. */
  readonly readings_sha256: string;
  readonly title: string;
  /** Day of the comparison, ISO 8601; `null` where none is stated. */
  readonly date: string | null;
  readonly reference: string;
  readonly candidate: string;
  readonly confidence: number;
  readonly tolerance_percent: number;
  readonly series: readonly SeriesResult[];
  readonly settings: readonly SettingResult[];
  /** What kind of reading every number of this result is about. */
  readonly reading: ReadingKind;
  readonly infrared: readonly InfraredResult[];
  readonly agreement: AgreementResult;
  readonly wavelengths: readonly WavelengthResult[];
  readonly common_factor: CommonFactor;
  readonly power: PowerResult;
  readonly opinions: readonly OpinionResult[];
  readonly three_instruments: ThreeInstruments;
  /** `null` when no earlier factors were given. */
  readonly then_and_now: ThenAndNow | null;
  /** One a wavelength of any of the studies; `null` below two earlier studies. */
  readonly re_checks: readonly ReChecks[] | null;
  readonly hazard: readonly HazardResult[];
  /** Entries that look like a slip of the pen, and are not settled yet. */
  readonly suspects: readonly SuspectResult[];
  readonly warnings: readonly Warning[];
}
