import type { Caution } from '../knowledge/knowledgeBase.ts';
import { forLook, type Look, paintFor, wrap } from './style.ts';

/** What comes before any question when something is dangerous. */
export function showAlarms(cautions: readonly Caution[], look: Look): string {
  const paint = paintFor(look);
  const heading = paint.bold(paint.red('STOP. This comes first.'));
  const body = cautions.map((caution) => wrap(caution.text, look.width, '  '));
  const end = wrap('Come back for the diagnosis when everything is cold and safe.', look.width);
  return forLook([heading, ...body, end].join('\n\n'), look);
}
