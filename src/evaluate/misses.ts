import type { Engine } from '../dialogue/engine.ts';
import { reasonsFor } from '../dialogue/reasons.ts';
import type { Tried } from './runBoth.ts';

const mostReasons = 3;

/** The worst misses, each with what spoke most for the cause that came first and what for and against the true one. */
export function missLines(engine: Engine, runs: readonly Tried[], most: number): string[] {
  const missed = runs
    .filter((run) => run.rankAsked > 1)
    .sort((a, b) => b.rankAsked - a.rankAsked || (a.item.name < b.item.name ? -1 : 1))
    .slice(0, most);
  if (missed.length === 0) return [];
  return [
    'Missed, the worst first (place after the interview, with everything stated)',
    ...missed.flatMap((run) => missText(engine, run)),
    '',
  ];
}

function missText({ model }: Engine, { item, stated, rank, rankAsked }: Tried): string[] {
  const first = stated.run.causes[0]?.id;
  const [truth] = item.truth;
  const reasons = (cause: string | undefined) => {
    const index = cause === undefined ? undefined : model.causeIndex.get(cause);
    if (index === undefined) return 'no such cause';
    const [found] = reasonsFor(model, item.read.case, [index]);
    const text = (found ?? [])
      .slice(0, mostReasons)
      .map((reason) => `${reason.decibans > 0 ? '+' : ''}${reason.decibans.toFixed(1)} dB ${reason.text}`)
      .join('; ');
    return text || 'nothing stated bears on it';
  };
  const place = (at: number) => (Number.isFinite(at) ? String(at) : 'not ranked');
  return [
    `  ${item.name}: ${item.truth.join(' or ')} (${place(rankAsked)}, ${place(rank)})`,
    ...(first === undefined || item.truth.includes(first) ? [] : [`    first ${first}: ${reasons(first)}`]),
    `    true  ${truth ?? 'none'}: ${reasons(truth)}`,
  ];
}
