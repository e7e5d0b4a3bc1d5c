import { checkSaid } from './checkSaid.ts';
import type { Symptom } from './knowledgeBase.ts';
import { entryOf, maybe, type Reading } from './reading.ts';
import type { Raw } from './schemas.ts';

const defaultLeak = 0.01;
const mostLines = 9;
const mostColumns = 60;

export function readSymptom(reading: Reading, raw: Raw<'symptom'>): Symptom {
  const drawing = raw.drawing?.replace(/\s+$/, '');
  if (drawing !== undefined) checkDrawing(reading, drawing);
  checkSaid(reading, raw.said);
  return {
    ...entryOf(reading.draft),
    title: raw.title,
    ...maybe('under', raw.under),
    order: raw.order ?? 100,
    ...maybe('look', raw.look?.trim()),
    ...maybe('drawing', drawing),
    alsoCalled: raw['also-called'] ?? [],
    tellApart: raw['tell-apart'] ?? {},
    leak: raw['shows-unexplained'] ?? defaultLeak,
    ...maybe('stopNow', raw['stop-now']),
  };
}

function checkDrawing(reading: Reading, drawing: string): void {
  const lines = drawing.split('\n');
  const wrong =
    lines.length > mostLines
      ? `it has ${lines.length} lines`
      : lines.some((line) => line.length > mostColumns)
        ? 'a line of it is too long'
        : lines.some((line) => /[^\x20-\x7e]/.test(line))
          ? 'it has characters that not every terminal shows'
          : undefined;
  if (wrong) {
    reading.add('bad-drawing', ['drawing'], {
      message: wrong,
      help: `At most ${mostLines} lines of ${mostColumns} plain characters.`,
    });
  }
}
