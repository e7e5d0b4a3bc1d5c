import type { Case } from '../dialogue/engine.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { chooseSymptom } from '../terminal/chooseSymptom.ts';
import { exitCode } from './exit.ts';
import { lookFor } from './look.ts';
import { noteProblems, openBase, placesFor } from './openBase.ts';
import type { Options } from './options.ts';
import { writeResult } from './output.ts';
import { goThrough, openLog, type Session, withSession } from './session.ts';

/** `culprint`: choose what is seen, answer questions, get the causes and the plan. Questions on stderr, result on stdout. */
export function interview(options: Options): Promise<number> {
  return withSession(options, (session) => run(session, options));
}

/** Milliseconds: the first question is on the screen by then, and nobody has read it yet. */
const untilRead = 120;

/** Builds the index before the first key of a search, in small steps. Where it fails, the search itself will tell. */
async function prepareSearch(knowledge: KnowledgeBase): Promise<void> {
  const { openSearch } = await import('../intake/search.ts');
  await openSearch(knowledge)
    .prepare('symptom')
    .catch(() => undefined);
}

async function run(session: Session, options: Options): Promise<number> {
  const { knowledge, problems } = await openBase(options);
  const { asker } = session;
  noteProblems(problems);
  for (;;) {
    const preparing = setTimeout(() => void prepareSearch(knowledge), untilRead);
    const chosen = await chooseSymptom(knowledge, asker, async (text) => {
      const { openSearch } = await import('../intake/search.ts');
      const hits = openSearch(knowledge).find(text, { kinds: ['symptom'], most: 5 });
      return hits.map(({ id }) => knowledge.symptoms[id]!);
    }).finally(() => clearTimeout(preparing));
    if (chosen === undefined) return exitCode.finished;
    // Only now, with the first question behind us, is the engine loaded.
    const { emptyCase } = await import('../model/case.ts');
    const { engineFor } = await import('./engineFor.ts');
    const engine = await engineFor(knowledge, chosen, options);
    let known: Case = { ...emptyCase, ...chosen };
    asker.note('seen', knowledge.symptoms[chosen.complaint]!.title);
    if (chosen.words !== undefined && engine.alarms(known).length === 0) {
      const { confirmReadings } = await import('./confirmReadings.ts');
      const confirmed = await confirmReadings(knowledge, asker, known, chosen.words);
      if (confirmed === 'stop') return exitCode.finished;
      if (confirmed === 'back') continue;
      known = confirmed;
    }
    const alarms = engine.alarms(known);
    if (alarms.length > 0) {
      const { showAlarms } = await import('../terminal/showAlarms.ts');
      await writeResult(showAlarms(alarms, lookFor(process.stdout, options)));
      return exitCode.finished;
    }
    const log = openLog(placesFor(options).data);
    try {
      const progress = { case: known, trail: [], planned: [] };
      log?.save(progress);
      const code = await goThrough(session, engine, progress, log);
      // Back past the first question: choose the symptom again.
      if (code !== undefined) return code;
    } finally {
      log?.close();
    }
  }
}
