import type { Marks, Sheet } from '../dialogue/sheet.ts';

/** Marks typed as numbers, those with a minus being "surely not there"; undefined when they cannot be read. */
export function readMarks({ kind, items }: Sheet, typed: string): Marks | undefined {
  const marks: Record<string, 'yes' | 'no'> = {};
  let othersAbsent = false;
  for (const part of typed.split(/[\s,]+/).filter(Boolean)) {
    if (part === '-' && kind === 'look') {
      othersAbsent = true;
      continue;
    }
    const read = /^(-?)(\d+)$/.exec(part);
    const item = read ? items[Number(read[2]) - 1] : undefined;
    if (!read || item === undefined || (read[1] && kind !== 'look')) return undefined;
    marks[item.id] = read[1] ? 'no' : 'yes';
  }
  if (othersAbsent) for (const { id } of items) marks[id] ??= 'no';
  return marks;
}
