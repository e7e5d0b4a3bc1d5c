import type { Path } from './parse.ts';
import type { Kind } from './schemas.ts';

/** What is being read, by kind and key; `*` stands for the key below. Each completes "I was reading ...". */
const phrases: Readonly<Record<string, string>> = {
  'symptom.under': 'where this symptom stands in the tree',
  'symptom.drawing': 'the drawing of this symptom',
  'symptom.tell-apart': 'how to tell this symptom from *',
  'symptom.stop-now': 'the caution that this symptom calls for',
  'symptom.said': 'the phrases by which people describe this symptom',
  'sign.levels': 'the levels of this sign',
  'sign.ask-when': 'when this sign is asked for',
  'sign.cannot-tell': 'how often people cannot tell',
  'sign.shows-unexplained': 'how often this sign shows without a known cause',
  'sign.said': 'the phrases by which people say this sign',
  'fact.kind': 'what kind of fact this is',
  'fact.unit': 'the unit of this fact',
  'fact.value': 'how this fact is computed',
  'fact.range': 'the plausible values of this fact',
  'fact.typical': 'how this fact is spread over prints',
  'fact.typical-for': 'how this fact is spread over prints in *',
  'fact.answers': 'the answers to this fact',
  'fact.usual': 'how usual each answer is',
  'fact.usual-for': 'how usual each answer is in *',
  'fact.ask-when': 'when this fact is asked for',
  'fact.cannot-tell': 'how often people cannot tell',
  'fact.within-material': 'the range of the material that this fact keeps to',
  'fact.said': 'the phrases by which people say this fact',
  'cause.usual': 'how usual this cause is',
  'cause.signs': 'how often this cause shows *',
  'cause.likelier-when': 'what * does to the odds of this cause',
  'cause.also-when': 'what several facts together do to the odds of this cause',
  'cause.told': 'the reports of people who had *',
  'cause.mistaken-for': 'how to tell this cause from *',
  'fix.to': 'the value that this fix changes to',
  'fix.from': 'the value that this fix changes from',
  'fix.unit': 'the unit of this fix',
  'fix.why-this-number': 'why the fix has this number',
  'fix.hands-on-minutes': 'the minutes of work that this fix takes',
  'fix.waiting-minutes': 'the minutes of waiting that this fix takes',
  'fix.grams': 'the filament that this fix takes',
  'fix.removes': 'how surely this fix removes *',
  'fix.worsens': 'what this fix does to *',
  'fix.cautions': 'the cautions of this fix',
  'fix.when': 'when this fix is offered',
  'fix.caps': 'the bounds of this fix',
  'fix.said': 'the phrases by which people say that they did this',
  'material.properties': 'the range of * of this material',
  'caution.when': 'when this caution is shown',
  'words.links': 'how often a cause shows a sign: the words for it',
  'words.usual': 'how usual a cause is: the words for it',
  'words.odds': 'what an answer does to the odds: the words for it',
  'words.chances': 'the words for a chance on the screen',
  'change.change': 'which entry this changes',
  'change.switch-off': 'what this switches off',
  'change.set': 'what this changes in the entry',
};

/** What stands at a path of an entry, in words. */
export function readingOf(kind: Kind, id: string, path: Path): string {
  const [key, ...below] = path.filter((step) => typeof step === 'string');
  const entry = kind === id || kind === 'change' ? `the ${kind}` : `the ${kind} \`${id}\``;
  if (key === undefined) return entry;
  const phrase = Object.hasOwn(phrases, `${kind}.${key}`)
    ? phrases[`${kind}.${key}`]!
    : `\`${key}\` of ${entry}`;
  if (!phrase.includes('*')) return phrase;
  return below[0] === undefined
    ? phrase.replace('*', 'each other name')
    : phrase.replace('*', () => `\`${below[0]}\``);
}
