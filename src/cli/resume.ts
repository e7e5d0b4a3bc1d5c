import { listCases, type Opening, type Progress, type StoredCase } from '../cases/store.ts';
import type { Engine } from '../dialogue/engine.ts';
import { idsIn, presentAnswer } from '../dialogue/interview.ts';
import { labelAnswer, labelName } from '../dialogue/labels.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Outcome } from '../model/case.ts';
import type { Asker } from '../terminal/asker.ts';
import { rankingSoFar } from '../terminal/interviewLoop.ts';
import { type Look, wrap } from '../terminal/style.ts';
import { engineFor } from './engineFor.ts';
import { exitCode, Stop } from './exit.ts';
import { openBase, placesFor } from './openBase.ts';
import type { Options } from './options.ts';
import { writeJson, writeNote } from './output.ts';
import { goThrough, openLog, type Session, withSession } from './session.ts';

/** `culprint resume [ID]`: goes on with a case that was left, newest first. */
export async function resume(operands: readonly string[], options: Options): Promise<number> {
  const { data } = placesFor(options);
  const openings = listCases(data);
  const open = openings.flatMap((opening) =>
    opening.kind === 'open' && !opening.stored.solvedBy ? [opening.stored] : [],
  );
  if (options.json) {
    await writeJson({ version: 1, cases: open });
    return exitCode.finished;
  }
  for (const opening of openings) if (opening.kind !== 'open') writeNote(complain(opening));
  const wanted = operands[0];
  if (wanted !== undefined && !open.some((stored) => stored.id === wanted)) {
    throw new Stop(
      exitCode.missingInput,
      `there is no open case ${JSON.stringify(wanted)}`,
      'culprint resume lists them',
    );
  }
  if (open.length === 0) {
    writeNote('There is no open case. Start one with: culprint');
    return exitCode.finished;
  }
  return withSession(options, (session) => run(session, options, open, wanted, data));
}

function complain(opening: Exclude<Opening, { kind: 'open' }>): string {
  return opening.kind === 'newer'
    ? `note: case ${opening.id} was written by a newer culprint; update to go on with it`
    : `note: case ${opening.id} cannot be read and was left as it is`;
}

async function run(
  session: Session,
  options: Options,
  open: readonly StoredCase[],
  wanted: string | undefined,
  data: string,
): Promise<number> {
  const { asker } = session;
  const { knowledge } = await openBase(options);
  const stored = await choose(asker, knowledge, open, wanted);
  if (stored === undefined) return exitCode.finished;
  const log = openLog(data, stored.id);
  try {
    const engine = await engineFor(knowledge, stored.case, options);
    asker.say(recap(engine, stored, session.look()));
    const { id: _, at: __, ...kept } = stored;
    let progress: Progress = kept;
    if (stored.planned.length > 0) {
      const after = await howDidItGo(asker, knowledge, progress);
      if (after === 'stop') return exitCode.finished;
      progress = after;
      log?.save(progress);
      if (progress.solvedBy) {
        asker.say(wrap('Good. The case is closed, and what cured it is kept with it.', session.look().width));
        return exitCode.finished;
      }
    }
    const code = await goThrough(session, engine, progress, log);
    return code ?? exitCode.finished;
  } finally {
    log?.close();
  }
}

async function choose(
  asker: Asker,
  knowledge: KnowledgeBase,
  open: readonly StoredCase[],
  wanted: string | undefined,
): Promise<StoredCase | undefined> {
  const named = open.find((stored) => stored.id === wanted);
  if (named) return named;
  if (open.length === 1) return open[0];
  const entries = open.slice(0, 24).map((stored) => ({ id: stored.id, text: headline(knowledge, stored) }));
  const choice = await asker.pick('Which case?', entries);
  return choice.kind === 'pick' ? open.find((stored) => stored.id === choice.id) : undefined;
}

function headline(knowledge: KnowledgeBase, { at, case: known }: StoredCase): string {
  const day = new Date(at).toLocaleString('sv-SE').slice(0, 16);
  const complaint =
    known.complaint === undefined ? '' : (knowledge.symptoms[known.complaint]?.title ?? known.complaint);
  const material = known.facts['material'];
  return `${day}  ${complaint}${material === undefined ? '' : `, ${labelAnswer(knowledge, 'material', material).replace(/^[^:]*: /, '')}`}`;
}

const recalled = 3;

function recap(engine: Engine, stored: StoredCase, look: Look): string {
  const { knowledge } = engine;
  const answered = idsIn(stored.trail, stored.sheets ?? {}).filter((id) => !stored.case.unknown.includes(id));
  const last = answered.slice(-recalled).map((id) => {
    const value = presentAnswer(stored.case, id);
    const text = value === undefined ? labelName(knowledge, id) : labelAnswer(knowledge, id, value);
    return wrap(text, look.width, '    ', '  ');
  });
  const planned = stored.planned.map((id) =>
    wrap(`To be tried: ${knowledge.fixes[id]?.do ?? id}`, look.width, '  ', ''),
  );
  return [
    wrap(headline(knowledge, stored), look.width),
    ...last,
    rankingSoFar(engine, stored.case, look),
    ...planned,
  ].join('\n');
}

const outcomes: Readonly<Record<string, Outcome>> = { better: 'better', same: 'no_change', worse: 'worse' };

/** What became of the change that was to be tried: the strongest evidence there is. */
async function howDidItGo(
  asker: Asker,
  knowledge: KnowledgeBase,
  progress: Progress,
): Promise<Progress | 'stop'> {
  const choice = await asker.pick('You tried the change. How did the print come out?', [
    { id: 'good', text: 'good: it is gone' },
    { id: 'better', text: 'better, not gone' },
    { id: 'same', text: 'the same' },
    { id: 'worse', text: 'worse' },
    { id: 'not_yet', text: 'not tried yet' },
  ]);
  if (choice.kind === 'stop') return 'stop';
  if (choice.kind !== 'pick' || choice.id === 'not_yet') return progress;
  if (choice.id === 'good') return { ...progress, solvedBy: progress.planned };
  const outcome = outcomes[choice.id]!;
  const tried = Object.fromEntries(
    progress.planned.filter((id) => id in knowledge.fixes).map((id) => [id, outcome]),
  );
  return {
    ...progress,
    planned: [],
    case: { ...progress.case, tried: { ...progress.case.tried, ...tried } },
  };
}
