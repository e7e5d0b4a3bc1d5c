import { type CaseLog, type Progress, writeCase } from '../cases/store.ts';
import type { Case, Engine } from '../dialogue/engine.ts';
import type { Interview } from '../dialogue/interview.ts';
import { type Asker, InputEnded } from '../terminal/asker.ts';
import { type Guarded, guardTerminal } from '../terminal/guard.ts';
import type { Look } from '../terminal/style.ts';
import { exitCode, Stop } from './exit.ts';
import { lookFor } from './look.ts';
import type { Options } from './options.ts';
import { writeNote, writeResult } from './output.ts';

const farewell = 'stopped; what you answered is kept. Go on with: culprint resume';

/** A person at a terminal, and what is kept of the case. */
export interface Session {
  readonly asker: Asker;
  readonly look: () => Look;
  readonly options: Options;
}

/** Runs something that asks, with the terminal guarded; a person who leaves is told how to come back. */
export async function withSession(
  options: Options,
  run: (session: Session) => Promise<number>,
): Promise<number> {
  refuseWithoutTerminal(options);
  const look = () => lookFor(process.stderr, options);
  const keys =
    process.stdin.isTTY && process.stderr.isTTY && !options.plain && process.env['TERM'] !== 'dumb';
  const { asker, guarded, undo } = keys ? await byKeys(look) : await byLines(look);
  try {
    return await run({ asker, look, options });
  } catch (error) {
    if (!(error instanceof InputEnded)) throw error;
    if (error.reason === 'interrupt') {
      writeNote(farewell);
      return exitCode.interrupted;
    }
    writeNote(
      keys
        ? farewell
        : 'the answers ended before the questions did; what was answered is kept. Go on with: culprint resume',
    );
    return keys ? exitCode.finished : exitCode.badData;
  } finally {
    undo();
    asker.close();
    guarded?.release();
  }
}

function refuseWithoutTerminal(options: Options): void {
  if (!options.input) {
    throw new Stop(
      exitCode.usage,
      '--no-input forbids asking, and no case was given',
      'culprint diagnose --case FILE',
    );
  }
  if (process.stdin.isTTY && !process.stderr.isTTY) {
    throw new Stop(
      exitCode.usage,
      'the questions go to standard error, and that is not a terminal here',
      'culprint without 2>, or culprint diagnose --case FILE',
    );
  }
  if (!process.stdin.isTTY && !options.plain) {
    throw new Stop(
      exitCode.usage,
      'there is no terminal to ask questions in',
      'culprint diagnose --case FILE, or --plain to take typed answers from a pipe',
    );
  }
}

interface Asking {
  readonly asker: Asker;
  readonly guarded?: Guarded;
  readonly undo: () => void;
}

async function byKeys(look: () => Look): Promise<Asking> {
  const { KeyAsker } = await import('../terminal/keyAsker.ts');
  const interrupt = () => process.kill(process.pid, 'SIGINT');
  const asker = new KeyAsker({ input: process.stdin, output: process.stderr }, look, interrupt);
  const guarded = guardTerminal(process.stdin, process.stderr, () => asker.redraw(), farewell);
  return { asker, guarded, undo: () => {} };
}

async function byLines(look: () => Look): Promise<Asking> {
  const { LineAsker } = await import('../terminal/lineAsker.ts');
  const asker = new LineAsker(process.stdin, process.stderr, look());
  const onInterrupt = () => asker.interrupt();
  process.once('SIGINT', onInterrupt);
  return { asker, undo: () => process.off('SIGINT', onInterrupt) };
}

/** Asks to the end, shows the result, and offers more of it until the person is done. Undefined: back to the start. */
export async function goThrough(
  session: Session,
  engine: Engine,
  progress: Progress,
  log: CaseLog | undefined,
): Promise<number | undefined> {
  const { asker, look, options } = session;
  const keep = keeper(log);
  const { runInterview } = await import('../terminal/interviewLoop.ts');
  const start = { case: progress.case, trail: progress.trail, sheets: progress.sheets ?? {} };
  const outcome = await runInterview(engine, asker, look, start, (interview) => {
    keep({ ...progress, ...kept(interview) });
  });
  if (outcome === undefined) return undefined;
  const { interview, alarms } = outcome;
  if (alarms.length > 0) {
    const { showAlarms } = await import('../terminal/showAlarms.ts');
    await writeResult(showAlarms(alarms, lookFor(process.stdout, options)));
    return exitCode.finished;
  }
  const diagnosis = engine.diagnose(interview.case);
  const planned = diagnosis.plan[0]?.fixes.map((fix) => fix.advice.fix.id) ?? [];
  keep({ ...progress, ...kept(interview), planned });
  const { showDiagnosis } = await import('../terminal/showDiagnosis.ts');
  const full = options.all;
  asker.say('');
  await writeResult(
    showDiagnosis(engine.knowledge, diagnosis, lookFor(process.stdout, options), {
      causes: full ? 1000 : 3,
      wholePlan: full,
    }),
  );
  if (options.report !== undefined) {
    const { saveReport } = await import('./saveReport.ts');
    writeNote(saveReport(engine, interview.case, options.report, options.force));
  }
  if (outcome.stopped) writeNote('\nstopped; go on with: culprint resume');
  await offerMore(session, engine, interview.case, full);
  return exitCode.finished;
}

function kept({ case: known, trail, sheets }: Interview): Pick<Progress, 'case' | 'trail' | 'sheets'> {
  return { case: known, trail, sheets };
}

async function offerMore(session: Session, engine: Engine, known: Case, full: boolean): Promise<void> {
  if (!(process.stdin.isTTY && process.stdout.isTTY) || session.options.plain) return;
  const { offerMore: offer } = await import('../terminal/offerMore.ts');
  await offer(engine, session.asker, session.look(), known, full, async () => {
    const { saveReportBeside } = await import('./saveReport.ts');
    return saveReportBeside(engine, known);
  });
}

/** Saves after every answer; says once if nothing can be kept. */
export function keeper(log: CaseLog | undefined): (progress: Progress) => void {
  let told = log === undefined;
  if (log === undefined) writeNote('note: the data folder cannot be written; this case is not kept');
  return (progress) => {
    if (log?.save(progress) === false && !told) {
      told = true;
      writeNote('note: an answer could not be written; this case is not kept from here on');
    }
  };
}

export function openLog(data: string, id?: string): CaseLog | undefined {
  const log = writeCase(data, id);
  if (log === 'busy') {
    throw new Stop(
      exitCode.usage,
      'this case is open in another window',
      'close it there first, or start a new one with culprint',
    );
  }
  return log;
}
