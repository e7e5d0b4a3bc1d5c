import type { Token } from './cutClauses.ts';
import type { Match } from './phraseNet.ts';

export interface TriedRead {
  readonly fix: string;
  readonly outcome: 'no_change' | 'better';
  readonly first: number;
  readonly end: number;
}

const split = (words: string) => new Set(words.split(' '));
/** Say that something was done. */
const done = split(
  'tried new swapped replaced changed did done have ive had has after since put went set got bought took made cut ran gave fitted switched put fiddled played went ran whatever regardless',
);
/** Say that it is only thought of, or somebody's advice. */
const planned = split(
  'should will would plan planning going want considering tempted need ought must shall next tomorrow maybe how if say says suggest suggests suggested recommend recommends recommended advise advises advised',
);
/** These say of something that it was tried, without a word for the deed: "hotter nozzle, no change". */
const noChange = [
  '(no|zero|little|hardly any|not much) (change|difference|different|better|improvement|effect|luck|joy|help|avail|use|gain|go)',
  '(whatever|regardless|no matter)',
  '(didnt|doesnt|dont|hasnt|havent|wont|couldnt|not) * (help|fix|change|cure|solve|better|improve|matter|work|difference|stop)',
  '(didnt|doesnt) (do a thing|do anything|touch it|get rid|make a dent)',
  '(did|does|made|makes|changed|changes|helped) (nothing|no)',
  '(nothing|neither|none|never) * (help|change|work|improve)',
  '(not|isnt|wasnt|never|hardly) (any|much|a bit|really|) better',
  '(same|identical) (result|thing|problem|issue|story|again|as before|trouble|fault|error|outcome|mess)',
  '(without|in) (success|vain)',
  '(all|exactly|just|stayed|looks|stays|broke|failed) the same',
  'nothing (gained|improved|changed|better)',
  '(useless|wasnt it|isnt it|not the reason)',
];
/** These may also tell how something is that nobody has tried to change. */
const goesOn = [
  '(still|keeps|anyway)',
  '(problem|trouble|fault|error) (remain|persist|stay|came back|is back)',
  '(as|just as) (bad|weak|rough|ugly) (as before|)',
  'same (line|blob|mark|ripple|hair|gap|curl|droop|ringing|banding|noise|jam|clog|stringing|warping|lump|scar|spot|hole)',
];
const better = [
  'helped',
  '(much|lot|bit|made it|makes it|came out|was|is|were) (nicer|cleaner|smoother|stronger|quieter)',
  '(it|that|this|which) (improved|solved|cured|fixed)',
  '(fixed|solved|cured) (it|that|the problem)',
  '(little|bit|much|slightly|somewhat|lot|got|gets|is|was|are|it) better',
  '(makes|made|make) it better',
];
const worse = ['worse', 'worsened'];

/** What shows how a change came out; compiled together with the phrases of the knowledge. */
export const outcomePhrases: readonly (readonly [Outcome, readonly string[]])[] = [
  ['no_change', noChange],
  ['goes_on', goesOn],
  ['better', better],
  ['worse', worse],
];
export type Outcome = 'no_change' | 'goes_on' | 'better' | 'worse';

/**
 * Changes that were tried, with what came of them. The outcome stands in the same sentence, or in the next where that
 * names no change itself; what is listed after "already" did not help, or there would be no complaint. Where nothing says
 * how it came out, or it made things worse, nothing is read.
 */
export function readTried(
  tokens: readonly Token[],
  fixes: readonly Match<string>[],
  outcomes: readonly Match<Outcome>[],
): TriedRead[] {
  const sentences = sentencesOf(tokens);
  const outcomeOf = outcomesBySentence(tokens, outcomes);
  const withFix = new Set(fixes.map(({ first }) => tokens[first]!.sentence));
  return fixes.flatMap((match): TriedRead[] => {
    const { sentence } = tokens[match.first]!;
    const { already, plannedClauses, doneClauses } = sentences.get(sentence)!;
    const { clause } = tokens[match.first]!;
    if (plannedClauses.has(clause) || isOnset(tokens, match)) return [];
    const listed = already !== undefined && already < match.end;
    const wasDone = listed || doneClauses.has(clause) || isPast(tokens, match);
    if (!wasDone && outcomeOf.get(sentence) !== 'no_change') return [];
    const said =
      outcomeOf.get(sentence) ?? (withFix.has(sentence + 1) ? undefined : outcomeOf.get(sentence + 1));
    const what = said ?? (listed ? 'no_change' : undefined);
    if (what === undefined || what === 'worse' || what === 'unclear') return [];
    const outcome = what === 'goes_on' ? 'no_change' : what;
    return [{ fix: match.what, outcome, first: match.first, end: match.end }];
  });
}

/** "Since I put another nozzle on" says when it began. */
function isOnset(tokens: readonly Token[], { first }: Match<unknown>): boolean {
  const { clause } = tokens[first]!;
  for (let index = first - 1; tokens[index]?.clause === clause && index >= first - 8; index--)
    if (tokens[index]!.text === 'since' || tokens[index]!.text === 'until') return true;
  return false;
}

/** "It still strings" tells how it came out; "while it was still warm" does not. */
function isAside(tokens: readonly Token[], first: number): boolean {
  return (
    tokens[first]!.text === 'still' && /^(?:is|are|was|were|be|im|its)$/.test(tokens[first - 1]?.text ?? '')
  );
}

function isPast(tokens: readonly Token[], { first, end }: Match<unknown>): boolean {
  return tokens.slice(first, end).some(({ text }) => text.length > 4 && text.endsWith('ed'));
}

interface Sentence {
  already?: number;
  readonly plannedClauses: Set<number>;
  readonly doneClauses: Set<number>;
}

function sentencesOf(tokens: readonly Token[]): ReadonlyMap<number, Sentence> {
  const sentences = new Map<number, Sentence>();
  tokens.forEach(({ text, clause, sentence }, index) => {
    let one = sentences.get(sentence);
    if (one === undefined) {
      one = { plannedClauses: new Set(), doneClauses: new Set() };
      sentences.set(sentence, one);
    }
    if (text === 'already') one.already ??= index;
    if (planned.has(text)) one.plannedClauses.add(clause);
    if (done.has(text)) one.doneClauses.add(clause);
  });
  return sentences;
}

/** A sentence that says both is not clear; a "better" that lies inside a "no better" is part of it. */
function outcomesBySentence(
  tokens: readonly Token[],
  outcomes: readonly Match<Outcome>[],
): ReadonlyMap<number, Outcome | 'unclear'> {
  const bySentence = new Map<number, Outcome | 'unclear'>();
  const denied = new Uint8Array(tokens.length);
  const isInVain = (what: Outcome) => what === 'no_change' || what === 'goes_on';
  for (const { what, first, end } of outcomes) if (isInVain(what)) denied.fill(1, first, end);
  for (const { what, first, end } of outcomes) {
    if (!isInVain(what) && denied.subarray(first, end).includes(1)) continue;
    if (isAside(tokens, first)) continue;
    const { sentence } = tokens[first]!;
    const before = bySentence.get(sentence);
    if (before === 'no_change' && what === 'goes_on') continue;
    const agrees = before === undefined || before === what || (before === 'goes_on' && what === 'no_change');
    bySentence.set(sentence, agrees ? what : 'unclear');
  }
  return bySentence;
}
