import { type Case, type Engine, openEngine } from '../dialogue/engine.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Options } from './options.ts';

/** The engine for a case; what its words are like is taken into account, and only loaded, where there are any. */
export async function engineFor(
  knowledge: KnowledgeBase,
  { words }: Pick<Case, 'words'>,
  options: Options,
): Promise<Engine> {
  if (words === undefined || !options.reading) return openEngine(knowledge);
  const { openLikeness } = await import('../intake/likeness.ts');
  return openEngine(knowledge, openLikeness(knowledge));
}
