import { existsSync, readFileSync } from 'node:fs';
import { readCases } from '../cases/caseFile.ts';
import type { Case, Engine } from '../dialogue/engine.ts';
import { nextStep } from '../dialogue/nextStep.ts';
import type { LikelySymptom } from '../intake/likelySymptoms.ts';
import type { Reading } from '../intake/readWords.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Problem } from '../knowledge/problem.ts';
import { alarmJson, diagnosisJson } from '../report/diagnosisJson.ts';
import { reportMarkdown } from '../report/markdown.ts';
import { showAlarms } from '../terminal/showAlarms.ts';
import { showDiagnosis } from '../terminal/showDiagnosis.ts';
import { showProblems } from '../terminal/showProblems.ts';
import { forLook, wrap } from '../terminal/style.ts';
import { engineFor } from './engineFor.ts';
import { exitCode, Stop } from './exit.ts';
import { lookFor } from './look.ts';
import { noteProblems, openBase } from './openBase.ts';
import type { Options } from './options.ts';
import { writeJson, writeNote, writeResult } from './output.ts';
import { saveReport } from './saveReport.ts';

/** A complaint less likely than this is not named as another that may be meant. */
const leastChance = 0.1;

/** A case with what was read from its words. */
interface FromWords {
  readonly case: Case;
  readonly used: readonly Reading[];
  /** Other symptoms that the words speak of. */
  readonly described: readonly Reading[];
  /** Where the words had to give the complaint: the symptoms it may be, likeliest first. */
  readonly guessed: readonly LikelySymptom[];
}

/** Largest case file; a description may have 64 KiB. */
const largestCase = 256 * 1024;

/** `culprint diagnose --case FILE`: the diagnosis of a case as it stands, without asking. */
export async function diagnoseCase(options: Options): Promise<number> {
  if (options.case === undefined) {
    throw new Stop(
      exitCode.usage,
      'no case was given, and --no-input forbids asking',
      'culprint diagnose --case FILE',
    );
  }
  const text = readCaseText(options.case);
  const { knowledge, problems } = await openBase(options);
  const read = readCases(text, options.case, knowledge);
  const all = [...problems, ...read.problems];
  if (read.cases.length !== 1) return refuse(all.length > 0 ? all : [], options, read.cases.length);
  const engine = await engineFor(knowledge, read.cases[0]!.case, options);
  const { known, guessed } = await withComplaint(engine, read.cases[0]!.case, options);
  const words = await withWords(engine, known, options);
  return answer(engine, { ...words, guessed }, all, options);
}

async function answer(
  engine: Engine,
  { case: known, used: read, described, guessed }: FromWords,
  problems: readonly Problem[],
  options: Options,
): Promise<number> {
  const look = lookFor(process.stdout, options);
  const alarms = engine.alarms(known);
  if (alarms.length > 0) {
    if (options.json) await writeJson(alarmJson(alarms, problems));
    else await writeResult(showAlarms(alarms, look));
    return exitCode.finished;
  }
  const diagnosis = engine.diagnose(known);
  const readText = read.length === 0 ? undefined : await sayRead(engine.knowledge, read);
  if (options.report === '-') {
    if (readText !== undefined) writeNote(readText);
    await writeResult(reportMarkdown(engine.knowledge, diagnosis, new Date()));
    return exitCode.finished;
  }
  if (options.report !== undefined) writeNote(saveReport(engine, known, options.report, options.force));
  if (options.json) {
    const asked = Object.keys(known.facts).length + Object.keys(known.signs).length + known.unknown.length;
    const next = nextStep(engine.model, known, { questions: Number.POSITIVE_INFINITY, asked });
    await writeJson({
      ...diagnosisJson(engine.knowledge, diagnosis, next, problems),
      read: read.map(({ id, value, words }) => ({ id, value, words })),
      // Not taken into account: only the person can say.
      alsoDescribed: described.map(({ id, words }) => ({ id, words })),
      complaintFromWords: guessed.map(({ id, chance }) => ({ id, chance })),
    });
  } else {
    noteProblems(problems);
    const causes = options.all ? diagnosis.causes.length : 3;
    const result = showDiagnosis(engine.knowledge, diagnosis, look, { causes, wholePlan: options.all });
    const noted = readText === undefined ? '' : `${wrap(forLook(readText, look), look.width)}\n\n`;
    await writeResult(noted + result);
  }
  return exitCode.finished;
}

function readCaseText(file: string): string {
  if (file !== '-' && !existsSync(file))
    throw new Stop(exitCode.missingInput, `there is no file ${JSON.stringify(file)}`);
  try {
    const bytes = readFileSync(file === '-' ? 0 : file);
    if (bytes.length > largestCase) {
      throw new Stop(
        exitCode.badData,
        `the case file is too large: ${bytes.length} bytes, at most ${largestCase}`,
      );
    }
    return bytes.toString('utf8');
  } catch (error) {
    if (error instanceof Stop) throw error;
    throw new Stop(exitCode.ioError, `${file} cannot be read: ${(error as Error).message}`);
  }
}

async function refuse(problems: readonly Problem[], options: Options, cases: number): Promise<number> {
  if (options.json) await writeJson({ version: 1, problems });
  else if (problems.length > 0) writeNote(showProblems(problems, lookFor(process.stderr, options).width));
  if (problems.length === 0) {
    throw new Stop(
      exitCode.badData,
      `the file holds ${cases} cases`,
      'give one case, as a mapping at the top of the file',
    );
  }
  return exitCode.badData;
}

/** A case without a complaint: the only symptom seen, else the best match for its words. */
async function withComplaint(
  engine: Engine,
  known: Case,
  options: Options,
): Promise<{ known: Case; guessed: readonly LikelySymptom[] }> {
  if (known.complaint !== undefined) return { known, guessed: [] };
  // Smoke comes before everything, also before knowing what else is wrong.
  if (engine.alarms(known).length > 0) return { known, guessed: [] };
  const seen = Object.keys(known.symptoms).filter((id) => known.symptoms[id]);
  const guessed = seen.length > 0 ? [] : await complaintsFromWords(engine, known);
  const complaint = seen[0] ?? guessed[0]?.id;
  if (complaint === undefined) {
    throw new Stop(
      exitCode.usage,
      known.words ? 'the words name no symptom that I know' : 'the case names no complaint',
      'add `complaint:` with one of the names in `culprint list symptoms`',
    );
  }
  if (guessed.length > 0 && !options.json) writeNote(sayGuessed(engine, guessed));
  const { [complaint]: _, ...symptoms } = known.symptoms;
  return { known: { ...known, complaint, symptoms }, guessed };
}

/** What the case's words say beside what the case states itself; loaded only where there are words. */
async function withWords(engine: Engine, known: Case, options: Options): Promise<Omit<FromWords, 'guessed'>> {
  if (known.words === undefined || !options.reading) return { case: known, used: [], described: [] };
  const { readWords } = await import('../intake/readWords.ts');
  const { withReadings } = await import('../intake/withReadings.ts');
  const symptoms = known.complaint === undefined ? {} : { [known.complaint]: true };
  const readings = readWords(engine.knowledge, known.words, {
    ...known,
    symptoms: { ...symptoms, ...known.symptoms },
  });
  return { ...withReadings(known, readings), described: readings.symptoms };
}

async function sayRead(knowledge: KnowledgeBase, read: readonly Reading[]): Promise<string> {
  const { describeReading, quoteWords } = await import('./describeReading.ts');
  const parts = read.map((reading) => `${describeReading(knowledge, reading)} (${quoteWords(reading)})`);
  return `Read from your words: ${parts.join('; ')}.`;
}

async function complaintsFromWords(engine: Engine, known: Case): Promise<readonly LikelySymptom[]> {
  if (known.words === undefined) return [];
  const { likelySymptoms } = await import('../intake/likelySymptoms.ts');
  return likelySymptoms(engine.model, known.words, known);
}

/** The complaint that was taken, and those it may be instead. */
function sayGuessed({ knowledge }: Engine, [first, ...others]: readonly LikelySymptom[]): string {
  const title = ({ id }: LikelySymptom) => knowledge.symptoms[id]!.title;
  const near = others.filter(({ chance }) => chance > leastChance).slice(0, 2);
  const or = near.length === 0 ? '' : ` It may also be: ${near.map(title).join('; ')}.`;
  return `Taken from the words: ${title(first!)}.${or}`;
}
