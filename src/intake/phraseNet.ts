import { choiceOf, cutPhrase, type PhraseStep, stepsOf } from '../knowledge/phrase.ts';
import { baseForms } from './baseForms.ts';
import type { Span, Token } from './cutClauses.ts';
import { isDenial } from './denied.ts';

export interface Match<T> extends Span {
  readonly what: T;
  /** Where its parts stand, in their order in the phrase; one unless it was written with `&`. */
  readonly parts: readonly Span[];
}

/** Counts the steps that reading took, for tests of how it grows. */
export interface Meter {
  steps: number;
}

/** What a part of a phrase belongs to. */
interface Phrase<T> {
  readonly what: T;
  readonly parts: number;
}

type Target<T> = Node<T> | Found<T>;
interface Found<T> {
  readonly phrase: Phrase<T>;
  readonly part: number;
}
/** Goes on where the next word is one of these, begins so, or, without a test, is any word that does not deny. */
interface Node<T> {
  readonly texts?: ReadonlySet<string>;
  readonly begins?: string;
  readonly next: readonly Target<T>[];
}

const widestGap = 3;
/** Words from the first to the last of a phrase whose parts stand in any order. */
const widestSpan = 14;

/** Many phrases as one net of words: what a text says is found in one walk from each of its words. */
export class PhraseNet<T extends object> {
  private readonly byWord = new Map<string, Node<T>[]>();
  private readonly byBeginning = new Map<string, Node<T>[]>();
  private readonly groups: Readonly<Record<string, readonly string[]>>;

  constructor(groups: Readonly<Record<string, readonly string[]>> = {}) {
    this.groups = groups;
  }

  /** A phrase that cannot be cut is passed over; `culprint check` names it. */
  add(text: string, what: T): void {
    const cut = cutPhrase(text);
    if (!cut.ok) return;
    const phrase = { what, parts: cut.parts.length };
    for (const [part, steps] of cut.parts.entries()) {
      for (const target of this.entriesOf(steps, [{ phrase, part }])) {
        // A phrase is never empty.
        if (!('next' in target)) continue;
        for (const word of target.texts ?? []) push(this.byWord, word, target);
        if (target.begins !== undefined) push(this.byBeginning, target.begins, target);
      }
    }
  }

  /** Where a walk through these steps can begin, if `after` is where it goes on; built from the last step to the first. */
  private entriesOf(steps: readonly PhraseStep[], after: readonly Target<T>[]): readonly Target<T>[] {
    let next = after;
    for (const step of [...steps].reverse()) {
      switch (step.kind) {
        case 'words':
          next = [{ texts: new Set(step.texts), next }];
          break;
        case 'begins':
          next = [{ begins: step.text, next }];
          break;
        case 'gap': {
          const beyond = next;
          for (let words = 0; words < widestGap; words++) next = [...beyond, { next }];
          break;
        }
        case 'group': {
          const terms = Object.hasOwn(this.groups, step.name) ? this.groups[step.name]! : [];
          next = this.entriesOf([choiceOf(terms.map(stepsOf))], next);
          break;
        }
        case 'choice': {
          const beyond = next;
          next = [...new Set(step.of.flatMap((choice) => this.entriesOf(choice, beyond)))];
        }
      }
    }
    return next;
  }

  /** All matches, in the order of their first words; a part stands within a clause. A walk is never longer than a phrase. */
  find(tokens: readonly Token[], meter: Meter): Match<T>[] {
    const matches: Match<T>[] = [];
    const pieces = new Map<Phrase<T>, Span[][]>();
    const forms = new Map<string, readonly string[]>();
    const formsAt = (index: number): readonly string[] => {
      const { text } = tokens[index]!;
      let known = forms.get(text);
      if (known === undefined) {
        known = baseForms(text);
        forms.set(text, known);
      }
      return known;
    };
    const arrive = ({ phrase, part }: Found<T>, span: Span) => {
      if (phrase.parts === 1) {
        matches.push({ what: phrase.what, ...span, parts: [span] });
        return;
      }
      let there = pieces.get(phrase);
      if (there === undefined) {
        there = Array.from({ length: phrase.parts }, () => []);
        pieces.set(phrase, there);
      }
      there[part]!.push(span);
    };
    for (let first = 0; first < tokens.length; first++) {
      const { clause } = tokens[first]!;
      let at: Iterable<Node<T>> = this.beginningsAt(tokens[first]!.text, formsAt(first));
      for (let index = first; tokens[index]?.clause === clause; index++) {
        const next = new Set<Node<T>>();
        const found = new Set<Found<T>>();
        for (const node of at) {
          meter.steps += 1;
          if (index > first && !fits(node, tokens[index]!.text, formsAt(index))) continue;
          for (const target of node.next) {
            if ('next' in target) next.add(target);
            else found.add(target);
          }
        }
        for (const one of found) arrive(one, { first, end: index + 1 });
        if (next.size === 0) break;
        at = next;
      }
      meter.steps += 1;
    }
    for (const [{ what }, parts] of pieces) matches.push(...together(tokens, what, parts, meter));
    return matches.sort((a, b) => a.first - b.first);
  }

  private beginningsAt(text: string, forms: readonly string[]): Node<T>[] {
    const nodes = forms.flatMap((form) => this.byWord.get(form) ?? []);
    for (let length = 1; this.byBeginning.size > 0 && length <= text.length; length++)
      nodes.push(...(this.byBeginning.get(text.slice(0, length)) ?? []));
    return [...new Set(nodes)];
  }
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const there = map.get(key);
  if (there === undefined) map.set(key, [value]);
  else there.push(value);
}

function fits<T>({ texts, begins }: Node<T>, text: string, forms: readonly string[]): boolean {
  if (texts !== undefined) return forms.some((form) => texts.has(form));
  return begins === undefined ? !isDenial(text) : text.startsWith(begins);
}

/** Where all parts stand near one another in one sentence: for each place of the first part the nearest of the others. */
function together<T>(
  tokens: readonly Token[],
  what: T,
  parts: readonly (readonly Span[])[],
  meter: Meter,
): Match<T>[] {
  const [leading, ...others] = parts;
  const from = others.map(() => 0);
  return leading!.flatMap((span): Match<T>[] => {
    const near = others.map((places, at) => {
      // Both stand in their order, so that none is passed twice.
      while (places[from[at]!] !== undefined && places[from[at]!]!.first < span.first) {
        from[at]! += 1;
        meter.steps += 1;
      }
      return nearest(places, from[at]!, span, meter);
    });
    if (near.some((place) => place === undefined)) return [];
    const spans = [span, ...(near as Span[])];
    const first = Math.min(...spans.map((place) => place.first));
    const end = Math.max(...spans.map((place) => place.end));
    const oneSentence = tokens[first]!.sentence === tokens[end - 1]!.sentence;
    return oneSentence && end - first <= widestSpan ? [{ what, first, end, parts: spans }] : [];
  });
}

/** The place nearest to `span` that does not overlap it; `from` is the first that does not begin before it. */
function nearest(places: readonly Span[], from: number, span: Span, meter: Meter): Span | undefined {
  const distance = (place: Span) => Math.abs(place.first - span.first);
  const search = (start: number, step: number): Span | undefined => {
    for (let at = start; places[at] !== undefined && distance(places[at]!) <= widestSpan; at += step) {
      meter.steps += 1;
      if (places[at]!.end <= span.first || places[at]!.first >= span.end) return places[at];
    }
    return undefined;
  };
  const before = search(from - 1, -1);
  const after = search(from, 1);
  return before && (!after || distance(before) < distance(after)) ? before : after;
}
