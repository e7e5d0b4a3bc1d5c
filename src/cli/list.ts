import { type ListKind, listItems, listKinds } from '../report/listJson.ts';
import { wrap } from '../terminal/style.ts';
import { exitCode, Stop } from './exit.ts';
import { lookFor } from './look.ts';
import { openBase } from './openBase.ts';
import { nearest, type Options } from './options.ts';
import { writeJson, writeResult } from './output.ts';

/** `culprint list KIND`: every id with its text, answers and units. */
export async function list(operands: readonly string[], options: Options): Promise<number> {
  const kind = readKind(operands);
  const { knowledge } = await openBase(options);
  const items = listItems(knowledge, kind);
  if (options.json) {
    await writeJson({ version: 1, kind, items });
    return exitCode.finished;
  }
  const { width } = lookFor(process.stdout, options);
  const lines = items.map((item) => {
    const answers = item.answers?.map((answer) => answer.id).join(' | ');
    const range =
      item.unit === undefined
        ? undefined
        : `${item.range ? item.range.join(' .. ') : ''} ${item.unit}`.trim();
    const notes = [answers, range, item.local === undefined ? undefined : 'local'].filter(
      (note) => note !== undefined,
    );
    return wrap(
      `${item.text}${notes.length > 0 ? ` [${notes.join('; ')}]` : ''}`,
      width,
      '    ',
      `${item.id}\n    `,
    );
  });
  await writeResult(lines.join('\n'));
  return exitCode.finished;
}

function readKind(operands: readonly string[]): ListKind {
  const [word, ...more] = operands;
  const kind = listKinds.find((known) => known === word);
  if (kind !== undefined && more.length === 0) return kind;
  const kinds = listKinds.join(', ');
  if (word === undefined)
    throw new Stop(exitCode.usage, 'list what?', `culprint list ${listKinds.join('|')}`);
  if (kind !== undefined)
    throw new Stop(exitCode.usage, `list takes one kind, not ${operands.length}`, `one of ${kinds}`);
  const near = nearest(word, listKinds);
  throw new Stop(
    exitCode.usage,
    `there is no list of ${JSON.stringify(word)}`,
    near ? `did you mean ${near}?` : `one of ${kinds}`,
  );
}
