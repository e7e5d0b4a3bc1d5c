import type { Case, Engine } from '../dialogue/engine.ts';
import type { Asker } from './asker.ts';
import { showDiagnosis } from './showDiagnosis.ts';
import type { Look } from './style.ts';

/** What can be had beyond the first change: more causes, the whole plan, a report on file. */
export async function offerMore(
  engine: Engine,
  asker: Asker,
  look: Look,
  known: Case,
  full: boolean,
  save: () => Promise<string>,
): Promise<void> {
  const seen = new Set<string>(full ? ['all'] : []);
  for (;;) {
    const entries = [
      ...(seen.has('all') ? [] : [{ id: 'all', text: 'more causes and the whole plan' }]),
      ...(seen.has('report') ? [] : [{ id: 'report', text: 'save a report' }]),
      { id: 'done', text: 'done' },
    ];
    const choice = await asker.pick('Anything more?', entries);
    if (choice.kind !== 'pick' || choice.id === 'done') return;
    seen.add(choice.id);
    if (choice.id === 'report') asker.say(await save());
    else
      asker.say(
        `\n${showDiagnosis(engine.knowledge, engine.diagnose(known), look, { causes: 8, wholePlan: true })}`,
      );
  }
}
