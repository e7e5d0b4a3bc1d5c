import type { Diagnosis, PlannedFix, RankedCause } from '../dialogue/diagnose.ts';
import { severalOrUnknown } from '../dialogue/engine.ts';
import { fillPlaces } from '../dialogue/fillPlaces.ts';
import { chanceWord, inTen, showMinutes, showQuantity, writeUnit } from '../dialogue/quantity.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { forLook, type Look, padTo, paintFor, wrap } from './style.ts';

export interface ShowOptions {
  /** How many causes to list. */
  readonly causes: number;
  /** Whether to go through the whole plan or only its first change. */
  readonly wholePlan: boolean;
}

/** From this width a cause fits on one line with its word, its count and its bar. */
const wide = 62;

/** The result as text, most important line last but one: what to do first. No trailing line break. */
export function showDiagnosis(
  knowledge: KnowledgeBase,
  diagnosis: Diagnosis,
  look: Look,
  options: ShowOptions,
): string {
  if (diagnosis.contradictory) return showContradiction(look);
  const parts = [showCauses(knowledge, diagnosis, look, options.causes)];
  const [first, ...later] = diagnosis.plan;
  if (first === undefined) parts.push(showNoPlan(look));
  else {
    parts.push(showStep(knowledge, diagnosis, first, 'First change', look));
    if (first.fixes.length > 1) parts.push(wrap(togetherNote, look.width, '  '));
  }
  if (options.wholePlan) {
    parts.push(...later.map((step) => showStep(knowledge, diagnosis, step, 'If that does not help', look)));
  }
  if (!options.wholePlan && later.length > 0) parts.push(showOutlook(later, look));
  parts.push(
    showCautions(diagnosis, look, options.wholePlan),
    showUnknown(diagnosis, look),
    showExpected(diagnosis, look),
  );
  return forLook(parts.filter((part) => part !== '').join('\n\n'), look);
}

const togetherNote =
  'These share one test print, which saves time; it will not tell you which of them helped. Make them one by one if you want to know.';

function showContradiction(look: Look): string {
  return wrap(
    'These answers cannot all be true together, as far as this tool knows. Check the last ones, or start again with what you are surest of.',
    look.width,
  );
}

function showCauses(knowledge: KnowledgeBase, diagnosis: Diagnosis, look: Look, most: number): string {
  const paint = paintFor(look);
  const causes = diagnosis.causes.slice(0, most);
  const lines = [paint.bold('Most likely')];
  causes.forEach((ranked, index) => {
    const mark = ranked.cause.local === undefined ? '' : ' (local)';
    lines.push(showRow(`${index + 1}`, ranked.cause.name + mark, ranked.chance, ranked.word, look));
    lines.push(...showReasons(ranked, look));
  });
  const word = chanceWord(knowledge.words.chances, diagnosis.otherChance);
  lines.push(showRow(' ', severalOrUnknown, diagnosis.otherChance, word, look));
  const tie = isTie(diagnosis.causes);
  if (tie) lines.push(wrap('The first two are about equally likely.', look.width, '  '));
  if (diagnosis.otherChance >= 0.5) {
    lines.push(wrap('No cause stands out: this may be something the tool does not know.', look.width, '  '));
  }
  return lines.join('\n');
}

/** Closer than this, an order would promise more than the numbers carry. */
const nearTie = 0.05;

function isTie([first, second]: readonly RankedCause[]): boolean {
  return (
    first !== undefined &&
    second !== undefined &&
    first.chance - second.chance < nearTie &&
    second.chance > 0.1
  );
}

function showRow(rank: string, name: string, chance: number, word: string, look: Look): string {
  const paint = paintFor(look);
  const label = ` ${rank.padStart(2)}  ${paint.bold(name)}`;
  if (look.plain)
    return wrap(
      `${rank.trim() === '' ? '' : `${rank}. `}${name}: ${word}, about ${inTen(chance)}.`,
      look.width,
    );
  if (look.width < wide)
    return `${wrap(name, look.width, '     ', ` ${rank.padStart(2)}  `)}\n     ${word}, about ${inTen(chance)}`;
  const filled = Math.round(chance * 10);
  const bar = '#'.repeat(filled) + '.'.repeat(10 - filled);
  const room = look.width - 44;
  const cut = name.length > room ? `\n${' '.repeat(room + 5)}` : '';
  return `${padTo(label, room + 5)}${cut} ${padTo(word, 14)} ${padTo(inTen(chance), 15)}${bar}`.trimEnd();
}

/** Weaker than this (a factor of 1.25 in the odds), an answer is not worth a word. */
const leastDecibans = 1;
const mostReasons = 3;

function showReasons({ reasons }: RankedCause, look: Look): string[] {
  const list = (label: string, sign: 1 | -1) => {
    const texts = reasons
      .filter((reason) => reason.decibans * sign >= leastDecibans)
      .slice(0, mostReasons)
      .map((reason) => reason.text);
    if (texts.length === 0) return [];
    if (look.plain) return [wrap(`${label}: ${texts.join('; ')}.`, look.width)];
    return [wrap(texts.join('; '), look.width, '              ', `     ${padTo(label, 9)}`)];
  };
  return [...list('for', 1), ...list('against', -1)];
}

function showFix(
  knowledge: KnowledgeBase,
  diagnosis: Diagnosis,
  planned: PlannedFix,
  look: Look,
  heading: string,
): string {
  const paint = paintFor(look);
  const { advice } = planned;
  const { fix, minutes } = advice;
  const lines = [paint.bold(heading) + paint.dim(`  ${effortText(minutes)}`)];
  if (heading.length + effortText(minutes).length + 2 > look.width) {
    lines[0] = `${paint.bold(heading)}\n${paint.dim(wrap(effortText(minutes), look.width, '  '))}`;
  }
  const say = (text: string, label = '') => lines.push(wrap(label + text, look.width, '  '));
  say(fix.do + (fix.local === undefined ? '' : ' (local)'));
  const change = changeText(knowledge, planned);
  if (change) say(change);
  for (const because of advice.heldBack) say(because, 'Held back: ');
  const why = fillPlaces(knowledge, fix, diagnosis.case);
  if (why && advice.to.length > 0) say(why, 'Why this number: ');
  say(fix.seenWhenItWorked, 'You will see: ');
  for (const effect of planned.sideEffects) say(effect, 'Side effect: ');
  for (const id of planned.cautions) {
    const caution = knowledge.cautions[id];
    if (caution) lines.push(paint.yellow(wrap(`Caution: ${caution.text}`, look.width, '  ')));
  }
  return lines.join('\n');
}

function effortText(minutes: PlannedFix['advice']['minutes']): string {
  const parts = [`${showMinutes(minutes.handsOn)} of work`];
  if (minutes.waiting >= 1) parts.push(`${showMinutes(minutes.waiting)} of waiting`);
  parts.push(minutes.reprint > 0 ? `test print ${showMinutes(minutes.reprint)}` : 'no test print');
  return parts.join(', ');
}

function changeText(knowledge: KnowledgeBase, { advice }: PlannedFix): string | undefined {
  const { fix, from, to, unit } = advice;
  if (to.length === 0) return undefined;
  const name = (fix.set !== undefined && (knowledge.facts[fix.set]?.name ?? fix.set)) || 'value';
  const target =
    to.length === 2 && to[0] !== to[1]
      ? `${to[0]} to ${showQuantity(to[1] as number, unit)}`
      : showQuantity(to[0] as number, unit);
  const wasUnit = writeUnit(unit) === '' ? undefined : unit;
  return from === undefined
    ? `${name}: ${target}`
    : `${name}: ${target} instead of ${showQuantity(from, wasUnit)}`;
}

/** Changes of one step share their test print; the first carries the heading. */
function showStep(
  knowledge: KnowledgeBase,
  diagnosis: Diagnosis,
  step: Diagnosis['plan'][number],
  heading: string,
  look: Look,
): string {
  return step.fixes
    .map((fix, index) => showFix(knowledge, diagnosis, fix, look, index === 0 ? heading : 'And with it'))
    .join('\n\n');
}

/** Steps after the first that are named in a line each. */
const outlookSteps = 3;

function showOutlook(later: Diagnosis['plan'], look: Look): string {
  const paint = paintFor(look);
  const lines = later
    .slice(0, outlookSteps)
    .map((step, index) =>
      wrap(
        step.fixes.map((fix) => fix.advice.fix.do).join(' And: '),
        look.width,
        '     ',
        `  ${index + 2}  `,
      ),
    );
  return [paint.bold('If that does not help'), ...lines].join('\n');
}

function showNoPlan(look: Look): string {
  return wrap(
    'No change is worth a test print on what is known. Answer more questions, or ask someone who can look at the part.',
    look.width,
  );
}

/** What holds for this print whatever is changed, and for changes that are only named; the rest stands with its change. */
function showCautions({ cautions, plan }: Diagnosis, look: Look, wholePlan: boolean): string {
  const paint = paintFor(look);
  const named = (steps: Diagnosis['plan']) =>
    new Set(steps.flatMap((step) => step.fixes.flatMap((fix) => [...fix.cautions])));
  const withItsChange = named(wholePlan ? plan : plan.slice(0, 1));
  const inOutlook = named(plan.slice(1, 1 + outlookSteps));
  const anywhere = named(plan);
  return cautions
    .filter(({ id }) => !withItsChange.has(id) && (inOutlook.has(id) || !anywhere.has(id)))
    .map((caution) => paint.yellow(wrap(`Caution: ${caution.text}`, look.width, '  ', '')))
    .join('\n');
}

function showUnknown({ unknown }: Diagnosis, look: Look): string {
  if (unknown.length === 0) return '';
  return wrap(
    `Not known, and worth finding out: ${unknown.map((item) => item.text).join('; ')}.`,
    look.width,
  );
}

function showExpected({ plan, expectedMinutes }: Diagnosis, look: Look): string {
  const paint = paintFor(look);
  const hands = plan[0]?.fixes.reduce((sum, fix) => sum + fix.advice.minutes.handsOn, 0) ?? 0;
  const work = plan.length === 0 ? '' : `, the first change ${showMinutes(hands)} of your hands`;
  return paint.bold(
    wrap(`Expected to a good print: about ${showMinutes(expectedMinutes)}${work}.`, look.width),
  );
}
