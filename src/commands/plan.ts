import { join, resolve } from 'node:path';
import { MeterpairError } from '../error.js';
import { counted } from '../findings/formatNumber.js';
import { fileInTheWay, IN_THE_WAY, planFiles } from '../notebook/writePlan.js';
import { planStudy, type StudyWishes } from '../plan/planStudy.js';
import { regularText } from '../record/regularFile.js';
import { checkedSettings, type StudySettings, studyValue } from '../record/studySettings.js';
import type { Io } from './io.js';
import { badUse, verb } from './options.js';
import { checkOutputFolder } from './outputFolder.js';
import {
  PLAN_OPTIONS,
  type PlanTexts,
  QUESTIONS,
  wishesFromFile,
  wishesFromTexts,
} from './planTexts.js';
import { type OutputFiles, sealedFiles } from './seal.js';
import { writeOutputs } from './writeOutputs.js';

const HELP = `Plans a comparison: how many series of how many laps, in which order, when to read, and what U to expect.
Writes study.json, runs.csv without readings, in the planned order, and run-sheet.html to print.

  npx meterpair plan FOLDER                                asks, in a terminal
  npx meterpair plan FOLDER --source "violet module:405:90" --reference "Bench head" --candidate "Drawer meter" \\
      --certificate 3 --tolerance 5 --placement jig --step-reference 0.1 --step-candidate 1

--source NAME:NM[:MW[:MM]]  name, wavelength, expected power, beam diameter; once for each source
--reference, --candidate    names of the meters
--step-reference, --step-candidate MW     display steps;  --rated-reference, --rated-candidate MW
--certificate PERCENT       expanded uncertainty of the reference;  --k K  its coverage factor (2)
--tolerance PERCENT         how far a corrected reading may be off (5);  --wanted PERCENT  its U (the tolerance)
--placement jig|by-hand|PERCENT           how the heads are put back, or what that is known to do
--noise PERCENT             scatter of one reading of each meter (1);  --steadiness PERCENT  of the source (0)
--order ORDER               ABBA-BAAB, ABBA, reference-first or candidate-first
--time-constant S           of the slower meter;  --read-at S  --on-time S  --rest S
--most-series N (3)  --most-laps N (40)  --title TEXT

Where FOLDER has a study.json, that says who takes part, and it stays as it is; --power MW then says how much
light to expect. Nothing that is there already is written over.
`;

/** Plans a comparison and writes the study to fill in. */
export const plan = verb({
  help: HELP,
  options: PLAN_OPTIONS,
  places: ['FOLDER'],
  run: async ({ places: [place], options }, io) => {
    if (place === undefined) throw badUse('Where should the plan go?', 'nothing', 'a folder');
    const folder = resolve(io.from, place);
    const there = await settingsIn(folder);
    const wishes =
      there === null
        ? wishesFromTexts(await answered(options, io))
        : wishesFromFile(there, options, join(folder, 'study.json'));
    const count = wishes.sources.length;
    io.err(`Trying designs for ${counted(count, 'source', 'sources')} …\n`);
    const made = planned(wishes);
    const { 'study.json': study, ...rest } = planFiles(made);
    const files: OutputFiles = there === null ? { 'study.json': study, ...rest } : rest;
    const whole = sealedFiles(files);
    const lost = await fileInTheWay(folder, whole);
    if (lost !== null) throw badUse(IN_THE_WAY.message, lost, IN_THE_WAY.expected);
    const names = Object.keys(files);
    await checkOutputFolder(folder, names, whole);
    await writeOutputs(folder, { files, names, answer: names }, io);
    io.out(`${made.sentences.join('\n')}\n`);
    if (there !== null) {
      io.out(
        `study.json stays as it is; the plan reckons with ${JSON.stringify(made.plans[0].study)}.\n`,
      );
    }
    io.out(`Written to ${folder}: ${Object.keys(files).join(', ')}\n`);
    return 0;
  },
});

/** A wish that means nothing is the user's here. */
function planned(wishes: StudyWishes): ReturnType<typeof planStudy> {
  try {
    return planStudy(wishes);
  } catch (error) {
    if (!(error instanceof MeterpairError) || error.code !== 'argument-wrong') throw error;
    throw new MeterpairError({ code: 'command-line', message: error.message });
  }
}

/** What a study.json in the folder says; `null` where there is none. */
async function settingsIn(folder: string): Promise<StudySettings | null> {
  const path = join(folder, 'study.json');
  const text = await regularText(path, 'study.json').catch((error: unknown) => {
    if (error instanceof MeterpairError && error.code === 'file-missing') return null;
    throw error;
  });
  return text === null ? null : checkedSettings(studyValue(text));
}

/** The options, and in a terminal the answers to what they leave open. */
async function answered(options: PlanTexts, io: Io): Promise<PlanTexts> {
  if (io.ask === undefined) return options;
  const given: Record<string, PlanTexts[keyof PlanTexts]> = { ...options };
  for (const [option, question] of QUESTIONS) {
    const said = given[option];
    if (said !== null && !(Array.isArray(said) && said.length === 0)) continue;
    if (option === 'source') {
      const sources: string[] = [];
      for (;;) {
        const answer = (
          await io.ask(sources.length === 0 ? question : 'One more (Enter: no): ')
        ).trim();
        if (answer === '') break;
        sources.push(answer);
      }
      given.source = sources;
    } else {
      const answer = (await io.ask(question)).trim();
      if (answer !== '') given[option] = answer;
    }
  }
  return given as unknown as PlanTexts;
}
