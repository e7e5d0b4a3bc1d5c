import type { Case } from '../dialogue/engine.ts';
import { InputEnded } from '../terminal/asker.ts';
import { chooseSymptom } from '../terminal/chooseSymptom.ts';
import { LineAsker } from '../terminal/lineAsker.ts';
import { exitCode, Stop } from './exit.ts';
import { lookFor } from './look.ts';
import { noteProblems, openBase } from './openBase.ts';
import type { Options } from './options.ts';
import { writeNote, writeResult } from './output.ts';

/** `culprint`: choose what is seen, answer questions, get the causes and the plan. Questions on stderr, result on stdout. */
export async function interview(options: Options): Promise<number> {
  if (!options.input) throw new Stop(exitCode.usage, '--no-input forbids asking, and no case was given', 'culprint diagnose --case FILE');
  if (!process.stdin.isTTY && !options.plain) {
    throw new Stop(
      exitCode.usage,
      'there is no terminal to ask questions in',
      'culprint diagnose --case FILE, or --plain to take typed answers from a pipe',
    );
  }
  const { knowledge, problems } = await openBase(options);
  const look = lookFor(process.stderr, options);
  const asker = new LineAsker(process.stdin, process.stderr, look);
  const onInterrupt = () => asker.interrupt();
  process.once('SIGINT', onInterrupt);
  try {
    noteProblems(problems);
    for (;;) {
      const chosen = await chooseSymptom(knowledge, asker, look, async (text) => {
        const { findSymptoms } = await import('../intake/findSymptom.ts');
        return findSymptoms(knowledge, text, 5);
      });
      if (chosen === undefined) return exitCode.finished;
      const { openEngine, emptyCase } = await import('../dialogue/engine.ts');
      const engine = openEngine(knowledge);
      const known: Case = {
        ...emptyCase,
        complaint: chosen.symptom,
        ...(chosen.words === undefined ? {} : { words: chosen.words }),
      };
      const alarms = engine.alarms(known);
      if (alarms.length > 0) {
        const { showAlarms } = await import('../terminal/showAlarms.ts');
        await writeResult(showAlarms(alarms, lookFor(process.stdout, options)));
        return exitCode.finished;
      }
      const { runInterview } = await import('../terminal/interviewLoop.ts');
      const outcome = await runInterview(engine, asker, look, known, () => {});
      // Back past the first question: choose the symptom again.
      if (outcome === undefined) continue;
      const { showDiagnosis } = await import('../terminal/showDiagnosis.ts');
      asker.say('');
      const shown = { causes: options.all ? 1000 : 3, wholePlan: options.all };
      await writeResult(
        showDiagnosis(knowledge, engine.diagnose(outcome.case), lookFor(process.stdout, options), shown),
      );
      return exitCode.finished;
    }
  } catch (error) {
    if (!(error instanceof InputEnded)) throw error;
    writeNote(error.reason === 'interrupt' ? '\nstopped' : 'the answers ended before the questions did');
    return error.reason === 'interrupt' ? exitCode.interrupted : exitCode.badData;
  } finally {
    process.off('SIGINT', onInterrupt);
    asker.close();
  }
}
