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
  /** Version of this file. */
  readonly schema: 'meterpair.result/2';
  /** Fingerprint of the data (docs/file-formats.md). */
  readonly data_sha256: string;
  /** Of the readings alone. */
  readonly readings_sha256: string;
  /** Of the study. */
  readonly title: string;
  /**
   * Day of the comparison: `record.date`, else the day of the first row of runs.csv that carries one; `null`:
   * neither says.
   */
  readonly date: string | null;
  /** Names of the meters. */
  readonly reference: string;
  readonly candidate: string;
  /** Level of every interval that does not state its own, a fraction. */
  readonly confidence: number;
  /** How far a corrected reading may be off and still serve, in percent. */
  readonly tolerance_percent: number;
  /** One a comparison series. */
  readonly series: readonly SeriesResult[];
  /** One a pair of wavelength settings. */
  readonly settings: readonly SettingResult[];
  /** What kind of reading every number of this result is about. */
  readonly reading: ReadingKind;
  /** One a source that was measured with and without a filter. */
  readonly infrared: readonly InfraredResult[];
  /** Over the whole study. */
  readonly agreement: AgreementResult;
  /** One a wavelength, ascending. */
  readonly wavelengths: readonly WavelengthResult[];
  /** One factor for all wavelengths? */
  readonly common_factor: CommonFactor;
  /** Does the factor depend on the power? */
  readonly power: PowerResult;
  /** One a value of opinions.json. */
  readonly opinions: readonly OpinionResult[];
  /** Scatter of both meters and a third one. */
  readonly three_instruments: ThreeInstruments;
  /** Against earlier factors, the last of them; `null` when none were given. */
  readonly then_and_now: ThenAndNow | null;
  /** Control charts, one a wavelength of any of the studies; `null` below two earlier files. */
  readonly re_checks: readonly ReChecks[] | null;
  /** One a source. */
  readonly hazard: readonly HazardResult[];
  /** Entries that look like a slip of the pen, and are not settled yet. */
  readonly suspects: readonly SuspectResult[];
  /** What the reader has to know. */
  readonly warnings: readonly Warning[];
}
