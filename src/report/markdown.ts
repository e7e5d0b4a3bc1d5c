import type { Diagnosis, PlannedFix, RankedCause } from '../dialogue/diagnose.ts';
import { fillPlaces } from '../dialogue/fillPlaces.ts';
import { labelAnswer, labelName } from '../dialogue/labels.ts';
import { chanceWord, inTen, showMinutes, showQuantity } from '../dialogue/quantity.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';

/** Causes that a report lists. */
const mostCauses = 8;

/** The result as Markdown for paper or a shop's notes: what was known, the causes, the whole plan, space to write. */
export function reportMarkdown(knowledge: KnowledgeBase, diagnosis: Diagnosis, date: Date): string {
  const { case: known } = diagnosis;
  const complaint =
    known.complaint === undefined
      ? 'unknown'
      : (knowledge.symptoms[known.complaint]?.title ?? known.complaint);
  const parts = [
    `# Failed print: ${complaint}`,
    `${date.toISOString().slice(0, 10)}. Chances are the model's belief, not counted prints.`,
    '## What was known',
    listOf(answersOf(knowledge, diagnosis)),
    ...(diagnosis.unknown.length === 0
      ? []
      : ['Worth finding out:', listOf(diagnosis.unknown.map((item) => item.text))]),
    '## Causes',
    listOf([
      ...diagnosis.causes.slice(0, mostCauses).map(causeLine),
      `several together, or unknown: ${chanceWord(knowledge.words.chances, diagnosis.otherChance)}, about ${inTen(diagnosis.otherChance)}`,
    ]),
    '## Plan',
    ...planOf(knowledge, diagnosis),
    `Expected to a good print: about ${showMinutes(diagnosis.expectedMinutes)}.`,
    '## Cautions',
    listOf(diagnosis.cautions.map((caution) => caution.text)),
    '## Notes',
    '\n\n',
  ];
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
}

function listOf(items: readonly string[]): string {
  return items.map((item) => `- ${item.replace(/\s+/g, ' ')}`).join('\n');
}

function answersOf(knowledge: KnowledgeBase, { case: known }: Diagnosis): string[] {
  const given: (readonly [string, string | number | boolean])[] = [
    ...Object.entries(known.facts),
    ...Object.entries(known.signs),
    ...Object.entries(known.symptoms).filter(([id]) => id !== known.complaint),
  ];
  const tried = Object.entries(known.tried).map(
    ([id, outcome]) => `tried, ${outcome.replace('_', ' ')}: ${knowledge.fixes[id]?.do ?? id}`,
  );
  const unknown = known.unknown.map((id) => `${labelName(knowledge, id)}: not known`);
  return [
    ...(known.words === undefined ? [] : [`in own words: ${known.words}`]),
    ...given.map(([id, value]) => labelAnswer(knowledge, id, value)),
    ...tried,
    ...unknown,
  ];
}

function causeLine({ cause, chance, word, reasons }: RankedCause): string {
  const side = (sign: 1 | -1, name: string) => {
    const texts = reasons.filter((reason) => reason.decibans * sign >= 1).map((reason) => reason.text);
    return texts.length === 0 ? '' : `; ${name}: ${texts.join(', ')}`;
  };
  return `**${cause.name}**: ${word}, about ${inTen(chance)}${side(1, 'for')}${side(-1, 'against')}. ${cause.why}`;
}

function planOf(knowledge: KnowledgeBase, diagnosis: Diagnosis): string[] {
  if (diagnosis.plan.length === 0) return ['No change is worth a test print on what is known.'];
  return diagnosis.plan.flatMap((step, index) => [
    `### ${index + 1}. ${index === 0 ? 'First change' : 'If that does not help'}`,
    ...step.fixes.map((fix) => fixText(knowledge, diagnosis, fix)),
  ]);
}

function fixText(knowledge: KnowledgeBase, diagnosis: Diagnosis, planned: PlannedFix): string {
  const { advice } = planned;
  const { fix, to, from, unit, minutes } = advice;
  const name = fix.set === undefined ? 'value' : (knowledge.facts[fix.set]?.name ?? fix.set);
  const target = to.length === 0 ? undefined : to.map((value) => showQuantity(value, unit)).join(' to ');
  const why = fillPlaces(knowledge, fix, diagnosis.case);
  const lines = [
    fix.do,
    ...(target === undefined
      ? []
      : [`${name}: ${target}${from === undefined ? '' : ` instead of ${showQuantity(from, unit)}`}`]),
    ...advice.heldBack.map((because) => `held back: ${because}`),
    ...(why && target !== undefined ? [`why this number: ${why}`] : []),
    `work ${showMinutes(minutes.handsOn)}, waiting ${showMinutes(minutes.waiting)}, test print ${showMinutes(minutes.reprint)}`,
    `seen when it worked: ${fix.seenWhenItWorked}`,
    ...planned.sideEffects.map((effect) => `side effect: ${effect}`),
    ...planned.cautions.flatMap((id) =>
      knowledge.cautions[id] ? [`caution: ${knowledge.cautions[id].text}`] : [],
    ),
  ];
  return listOf(lines);
}
