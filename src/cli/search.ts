import { alarmsFor } from '../dialogue/alarm.ts';
import { type Hit, openSearch } from '../intake/search.ts';
import { type SearchKind, searchKinds } from '../intake/searchEntries.ts';
import { emptyCase } from '../model/case.ts';
import { showAlarms } from '../terminal/showAlarms.ts';
import { forLook, type Look, paintFor, wrap } from '../terminal/style.ts';
import { exitCode, Stop } from './exit.ts';
import { lookFor } from './look.ts';
import { openBase } from './openBase.ts';
import type { Options } from './options.ts';
import { writeJson, writeResult } from './output.ts';

/** How many of each kind are shown. */
const most = 5;

const headings: Readonly<Record<SearchKind, string>> = {
  symptom: 'What is seen',
  cause: 'Causes',
  sign: 'Signs to look for',
  fix: 'Changes',
};

/** `culprint search WORDS...`: entries of every kind that fit free words, best first. To find nothing is no error. */
export async function search(operands: readonly string[], options: Options): Promise<number> {
  const words = operands.join(' ').trim();
  if (words === '') throw new Stop(exitCode.usage, 'search for what?', 'culprint search holes in the wall');
  const { knowledge } = await openBase(options);
  const { find } = openSearch(knowledge);
  const groups = searchKinds.map((kind) => ({ kind, hits: find(words, { kinds: [kind], most }) }));
  const cautions = alarmsFor(knowledge, { ...emptyCase, words });
  if (options.json) {
    await writeJson({ version: 1, words, stop: cautions.map(({ id, text }) => ({ id, text })), groups });
    return exitCode.finished;
  }
  const look = lookFor(process.stdout, options);
  // Smoke comes before everything, also before reading about it.
  if (cautions.length > 0) {
    await writeResult(showAlarms(cautions, look));
    return exitCode.finished;
  }
  const found = groups.filter(({ hits }) => hits.length > 0);
  await writeResult(
    forLook(
      found.length === 0
        ? wrap(
            'Nothing found. Say in other words what you see, or read the names: culprint list symptoms. Without words, culprint asks where on the print it is.',
            look.width,
          )
        : showGroups(found, look),
      look,
    ),
  );
  return exitCode.finished;
}

function showGroups(groups: readonly { kind: SearchKind; hits: readonly Hit[] }[], look: Look): string {
  const paint = paintFor(look);
  return [
    ...groups.map(({ kind, hits }) =>
      [
        paint.bold(headings[kind]),
        ...hits.flatMap((hit) => [
          wrap(hit.title + (hit.local === undefined ? '' : ' (local)'), look.width, '    ', '  '),
          paint.dim(wrap(`${hit.id}; matched: ${hit.because.slice(0, 12).join(', ')}`, look.width, '    ')),
        ]),
      ].join('\n'),
    ),
    wrap('To read one, and the cautions of a change before making it: culprint show ID', look.width),
  ].join('\n\n');
}
