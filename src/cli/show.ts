import { type EntryText, entryIds, entryText, findEntry } from '../report/entryText.ts';
import { forLook, type Look, paintFor, wrap } from '../terminal/style.ts';
import { exitCode, Stop } from './exit.ts';
import { lookFor } from './look.ts';
import { openBase } from './openBase.ts';
import type { Options } from './options.ts';
import { writeJson, writeResult } from './output.ts';

/** `culprint show ID`: one entry in full, of any kind; `culprint show --all` prints every id. */
export async function show(operands: readonly string[], options: Options): Promise<number> {
  const [id, ...more] = operands;
  if (id === undefined && !options.all)
    throw new Stop(exitCode.usage, 'show which entry?', 'culprint search WORDS... finds its name');
  if (more.length > 0)
    throw new Stop(exitCode.usage, `show takes one name, not ${operands.length}`, `culprint show ${id}`);
  const { knowledge } = await openBase(options);
  if (id === undefined) {
    const ids = entryIds(knowledge);
    if (options.json) await writeJson({ version: 1, ids });
    else await writeResult(ids.join('\n'));
    return exitCode.finished;
  }
  const text = entryText(knowledge, id);
  if (text === undefined) throw await unknownId(id, entryIds(knowledge));
  if (options.json) await writeJson({ version: 1, ...findEntry(knowledge, id) });
  else await writeResult(showEntry(text, lookFor(process.stdout, options)));
  return exitCode.finished;
}

async function unknownId(id: string, ids: readonly string[]): Promise<Stop> {
  const { nearestIds } = await import('../intake/nearestIds.ts');
  const near = nearestIds(id, ids, 3);
  return new Stop(
    exitCode.usage,
    `there is no entry ${JSON.stringify(id.slice(0, 80))}`,
    near.length > 0 ? `did you mean ${near.join(' or ')}?` : 'culprint search WORDS... finds entries',
  );
}

function showEntry(entry: EntryText, look: Look): string {
  const paint = paintFor(look);
  const local = entry.local === undefined ? '' : ', local';
  const lines = [
    paint.bold(wrap(entry.title, look.width)),
    paint.dim(wrap(`${entry.kind} ${entry.id}${local}`, look.width)),
  ];
  for (const { title, lines: said, drawing } of entry.parts) {
    if (drawing && (look.plain || said.some((line) => line.length > look.width))) continue;
    lines.push('', paint.bold(title));
    for (const line of said) {
      if (drawing) lines.push(line);
      else if (said.length === 1) lines.push(wrap(line, look.width, '  '));
      else lines.push(wrap(line, look.width, '    ', '  - '));
    }
  }
  return forLook(lines.join('\n'), look);
}
