import { holds } from '../knowledge/evaluate.ts';
import type { Condition, Fact, KnowledgeBase, NumberFact } from '../knowledge/knowledgeBase.ts';
import { cutNumberPhrase } from '../knowledge/phrase.ts';
import type { Case } from '../model/case.ts';
import { materialFact, Situation } from '../model/situation.ts';
import { cutClauses, type Span } from './cutClauses.ts';
import { denialOf, isSupposed } from './denied.ts';
import { type Match, type Meter, PhraseNet } from './phraseNet.ts';
import { type NumberName, readNumbers } from './readNumbers.ts';
import { readSymptoms } from './readSymptoms.ts';
import { type Outcome, outcomePhrases, readTried } from './readTried.ts';
import { relevantTo } from './relevant.ts';

/** Something that a description says of a fact or a sign, with the words that say it and where they stand. */
export interface Reading<T = string | number> {
  readonly id: string;
  readonly value: T;
  readonly words: string;
  readonly from: number;
  readonly to: number;
}

export interface Readings {
  readonly symptoms: readonly Reading<'yes'>[];
  readonly facts: readonly Reading[];
  readonly signs: readonly Reading<string>[];
  /** Fixes that were tried; the value is what came of them. */
  readonly tried: readonly Reading<'no_change' | 'better'>[];
}

type What =
  | { readonly kind: 'fact' | 'sign'; readonly id: string; readonly value: string; readonly denied?: string }
  | { readonly kind: 'number'; readonly fact: NumberFact; readonly value?: number | 'other' }
  | { readonly kind: 'fix'; readonly id: string }
  | { readonly kind: 'outcome'; readonly outcome: Outcome };

/** Names of materials that also mean other things; read only beside a word that says what is printed with. */
const everydayNames = new Set(['flex', 'flexible', 'rubber', 'wood', 'pp', 'pc']);
const plasticWords = 'filament|plastic|material|spool|roll';

const compiled = new WeakMap<KnowledgeBase, PhraseNet<What>>();

/**
 * Reads symptoms, facts, signs and tried changes out of a free description, by the phrases that entries list as `said`. Denied and
 * supposed phrases are not read, nor what the description says in two ways, nor what would not be asked. Throws nothing;
 * the work grows with the length of the text, of which at most 64 KiB are read.
 * @param known what is known beside the words: it decides whether something would be asked
 */
export function readWords(
  knowledge: KnowledgeBase,
  text: string,
  known: Partial<Pick<Case, 'facts' | 'signs' | 'symptoms'>> = {},
  meter: Meter = { steps: 0 },
): Readings {
  const tokens = cutClauses(text);
  const matches = netOf(knowledge).find(tokens, meter);
  const counted = matches.filter(({ what, first }) => what.kind === 'outcome' || !isSupposed(tokens, first));
  const wordsOf = (from: number, to: number) => text.slice(from, to).replace(/\s+/g, ' ').trim();
  const place = (first: number, end: number) => {
    const from = tokens[first]!.from;
    const { to } = tokens[end - 1]!;
    return { words: wordsOf(from, to), from, to };
  };
  const said: Record<'fact' | 'sign', (Reading<string> & Spread)[]> = { fact: [], sign: [] };
  for (const { what, first, end, parts } of counted) {
    if (what.kind !== 'fact' && what.kind !== 'sign') continue;
    const denial = denialOf(tokens, parts);
    const value = (denial === undefined ? what.value : what.denied) ?? '';
    said[what.kind].push({
      id: what.id,
      value,
      first,
      end,
      parts,
      ...place(Math.min(denial ?? first, first), end),
    });
  }
  const named = only(counted, 'number').filter(({ parts }) => denialOf(tokens, parts) === undefined);
  // What stands after `&` is a condition; the number belongs to the first part.
  const names = named.flatMap(({ what: { fact, value }, parts }): Match<NumberName>[] =>
    typeof value === 'number' ? [] : [{ what: { fact, other: value === 'other' }, ...parts[0]!, parts }],
  );
  const alone = Object.values(knowledge.facts).filter(isNumberAlone);
  const numbers = [
    ...readNumbers(text, tokens, names, alone, meter).map((read) => ({
      ...read,
      words: wordsOf(read.from, read.to),
    })),
    ...named.flatMap(({ what: { fact, value }, first, end }) =>
      typeof value === 'number' ? [{ id: fact.id, value, first, end, ...place(first, end) }] : [],
    ),
  ];
  const fixes = only(counted, 'fix').flatMap(({ what, ...span }): Match<string>[] =>
    denialOf(tokens, span.parts) !== undefined ? [] : [{ what: what.id, ...span }],
  );
  const outcomes = only(counted, 'outcome').map(({ what, ...span }) => ({ what: what.outcome, ...span }));
  const tried = readTried(
    tokens,
    longest(fixes, ({ what }) => what),
    outcomes,
  ).map(({ fix, outcome, ...span }) => ({
    id: fix,
    value: outcome,
    ...span,
    ...place(span.first, span.end),
  }));
  const described = [...readSymptoms(knowledge, text, tokens, meter)].map(([id, { first, end }]) => ({
    id,
    value: 'yes' as const,
    ...place(first, end),
  }));
  const facts = [...agreed(said.fact), ...agreed(numbers)];
  const signs = agreed(said.sign);
  return asked(knowledge, known, {
    symptoms: inOrder(described.filter(({ id }) => knowledge.symptoms[id]!.stopNow === undefined)),
    facts: inOrder(facts),
    signs: inOrder(signs),
    tried: inOrder(agreed(tried)),
  });
}

const isNumberAlone = (fact: Fact): fact is NumberFact =>
  fact.kind === 'number' && fact.saidAlone !== undefined;

function only<K extends What['kind']>(matches: readonly Match<What>[], kind: K) {
  return matches.filter((match): match is Match<Extract<What, { kind: K }>> => match.what.kind === kind);
}

interface Spread extends Span {
  readonly parts?: readonly Span[];
}

/** Without those that share words with a longer one of the same name; of the same words all are kept. */
function longest<T extends Spread>(spans: readonly T[], nameOf: (span: T) => string): T[] {
  const byName = new Map<string, T[]>();
  for (const span of [...spans].sort((a, b) => a.first - b.first || b.end - a.end)) {
    const name = nameOf(span);
    const kept = byName.get(name);
    const last = kept?.[kept.length - 1];
    if (kept === undefined) byName.set(name, [span]);
    else if (span.first >= last!.end || lengthOf(span) === lengthOf(last!)) kept.push(span);
    else if (lengthOf(span) > lengthOf(last!)) kept[kept.length - 1] = span;
  }
  return [...byName.values()].flat();
}

/** Words that a phrase itself accounts for; what lies between its parts may be about something else. */
const lengthOf = ({ first, end, parts }: Spread): number =>
  parts === undefined ? end - first : parts.reduce((sum, part) => sum + part.end - part.first, 0);

/** One reading for each id: the first of those that say the same. What is said in two ways is not read. */
function agreed<T extends Spread & { readonly id: string; readonly value: string | number }>(
  readings: readonly T[],
): Omit<T, 'first' | 'end' | 'parts'>[] {
  const byId = new Map<string, { readonly reading: T; clear: boolean }>();
  for (const reading of longest(readings, ({ id }) => id)) {
    // A phrase that is denied, and has no opposite, says nothing; here it has kept shorter ones from being read.
    if (reading.value === '') continue;
    const before = byId.get(reading.id);
    if (before === undefined) byId.set(reading.id, { reading, clear: true });
    else if (before.reading.value !== reading.value) before.clear = false;
  }
  return [...byId.values()].flatMap(({ reading, clear }) => {
    const { first: _, end: __, parts: ___, ...rest } = reading;
    return clear ? [rest] : [];
  });
}

function inOrder<T extends { readonly from: number }>(readings: readonly T[]): T[] {
  return [...readings].sort((a, b) => a.from - b.from);
}

/** Without what would not be asked of this print, or bears on none of its complaints. */
function asked(
  knowledge: KnowledgeBase,
  { facts = {}, signs = {}, symptoms = {} }: Partial<Pick<Case, 'facts' | 'signs' | 'symptoms'>>,
  read: Readings,
): Readings {
  const values = (readings: readonly Reading[]) =>
    Object.fromEntries(readings.map(({ id, value }) => [id, value]));
  const seen = Object.fromEntries(Object.entries(symptoms).map(([id, yes]) => [id, yes ? 'yes' : 'no']));
  const situation = new Situation(
    knowledge,
    { ...values(read.facts), ...facts },
    { ...seen, ...(values(read.signs) as Record<string, string>), ...signs },
  );
  const mayBe = (condition: Condition | undefined) => !condition || holds(condition, situation) !== false;
  const complaints = [
    ...Object.keys(symptoms).filter((id) => symptoms[id]),
    ...read.symptoms.map(({ id }) => id).filter((id) => symptoms[id] !== false),
  ];
  const relevant = Object.keys(symptoms).length === 0 ? undefined : relevantTo(knowledge, complaints);
  const bears = ({ id }: Reading) => relevant === undefined || relevant.has(id);
  return {
    symptoms: read.symptoms.filter(({ id }) => !Object.hasOwn(symptoms, id)),
    facts: read.facts.filter((reading) => {
      const fact = knowledge.facts[reading.id]!;
      return bears(reading) && fact.kind !== 'computed' && mayBe(fact.askWhen);
    }),
    signs: read.signs.filter((reading) => bears(reading) && mayBe(knowledge.signs[reading.id]!.askWhen)),
    tried: read.tried.filter(bears),
  };
}

function netOf(knowledge: KnowledgeBase): PhraseNet<What> {
  const known = compiled.get(knowledge);
  if (known) return known;
  const { phraseWords, said, saidByAnswer } = knowledge.wording;
  const net = new PhraseNet<What>(phraseWords);
  for (const { id, levels } of Object.values(knowledge.signs)) {
    const plain = levels.length === 2 && levels.every((level) => level.id === 'yes' || level.id === 'no');
    for (const [value, phrases] of Object.entries(saidByAnswer[id] ?? {})) {
      const what: What = { kind: 'sign', id, value, ...(plain && value === 'yes' ? { denied: 'no' } : {}) };
      for (const phrase of phrases) net.add(phrase, what);
    }
  }
  for (const fact of Object.values(knowledge.facts)) {
    if (fact.kind === 'number') {
      for (const text of said[fact.id] ?? []) {
        const { phrase, ...value } = cutNumberPhrase(text);
        net.add(phrase, { kind: 'number', fact, ...value });
      }
    } else if (fact.kind !== 'computed') {
      for (const [value, phrases] of Object.entries(saidByAnswer[fact.id] ?? {})) {
        // A material that is switched off is no answer.
        if (!fact.answers.some(({ id }) => id === value)) continue;
        const what: What = { kind: 'fact', id: fact.id, value };
        for (const phrase of phrases) net.add(phrase, what);
      }
    }
  }
  for (const id of Object.keys(knowledge.fixes)) {
    const what: What = { kind: 'fix', id };
    for (const phrase of said[id] ?? []) net.add(phrase, what);
  }
  for (const [outcome, phrases] of outcomePhrases) {
    const what: What = { kind: 'outcome', outcome };
    for (const phrase of phrases) net.add(phrase, what);
  }
  if (Object.hasOwn(knowledge.facts, materialFact)) addMaterials(knowledge, net);
  compiled.set(knowledge, net);
  return net;
}

function addMaterials(knowledge: KnowledgeBase, net: PhraseNet<What>): void {
  for (const { id, name, alsoCalled } of Object.values(knowledge.materials)) {
    const what: What = { kind: 'fact', id: materialFact, value: id };
    for (const written of new Set([id.replaceAll('_', ' '), name, ...alsoCalled])) {
      const phrase = written
        .toLowerCase()
        .replace(/[^\p{Ll}\p{N}]+/gu, ' ')
        .trim();
      if (!everydayNames.has(phrase)) net.add(phrase, what);
      else {
        net.add(`${phrase} (${plasticWords})`, what);
        net.add(`(print|printing|printed) (in|with) ${phrase}`, what);
      }
    }
  }
}
