import { atFileName, isSingleFile } from './collect.ts';
import { checkForm, type Draft, problemIn } from './draft.ts';
import type { Path } from './parse.ts';
import type { Problem, ProblemCode } from './problem.ts';
import type { Kind, Raw } from './schemas.ts';
import { suggest } from './suggest.ts';

/** All entries by id, and which of them were switched off. */
export interface Stack {
  readonly drafts: ReadonlyMap<string, Draft>;
  readonly off: ReadonlyMap<string, Draft>;
}

export type Changed = { readonly stack: Stack } | { readonly problems: readonly Problem[] };

/** Puts the entries of all folders together; a local one may not take the id of another, nor break the tree under it. */
export function addEntries(layers: readonly (readonly Draft[])[]): { stack: Stack; problems: Problem[] } {
  const problems: Problem[] = [];
  const drafts = new Map<string, Draft>();
  for (const layer of layers) {
    const seen = lowestOf(drafts);
    for (const draft of layer) {
      if (draft.kind === 'change') continue;
      const there = drafts.get(draft.id);
      const under = draft.kind === 'symptom' && isMapping(draft.raw) ? draft.raw['under'] : undefined;
      const join = there?.kind === draft.kind ? joiners[draft.kind] : undefined;
      if (there !== undefined && join !== undefined) {
        const wrong = draft.raw === undefined ? [] : checkForm(draft);
        if (draft.raw !== undefined && wrong.length === 0) drafts.set(draft.id, join(there, draft));
        problems.push(...wrong);
      } else if (there !== undefined) problems.push(takenId(draft, there));
      else if (typeof under === 'string' && seen.has(under)) problems.push(splitsLowest(draft, under));
      else drafts.set(draft.id, draft);
    }
  }
  return { stack: { drafts, off: new Map() }, problems };
}

function lowestOf(drafts: ReadonlyMap<string, Draft>): Set<string> {
  const symptoms = [...drafts.values()].filter(({ kind, raw }) => kind === 'symptom' && isMapping(raw));
  const above = new Set(symptoms.map(({ raw }) => (raw as Record<string, unknown>)['under']));
  return new Set(symptoms.map(({ id }) => id).filter((id) => !above.has(id)));
}

function splitsLowest(draft: Draft, under: string): Problem {
  return problemIn(draft, 'still-needed', ['under'], {
    message: `\`${under}\` is what exactly is seen, not a place; causes show it as it is`,
    help: 'Put the symptom beside it, under the same place.',
  });
}

function takenId(draft: Draft, there: Draft): Problem {
  const help =
    draft.local !== undefined && there.local !== draft.local
      ? `To adjust it, write changes/${draft.id}.yaml with \`change: ${draft.id}\` and \`set:\`.`
      : 'Give one of the two another name.';
  return atFileName(
    draft.parsed,
    'duplicate-id',
    `\`${draft.id}\` is already there: ${there.parsed.file}`,
    help,
  );
}

/** A later file of sources adds to the earlier one; what both have, the earlier says. */
function joinSources(under: Draft, over: Draft): Draft {
  if (!isMapping(under.raw) || !isMapping(over.raw)) return over;
  return { ...under, raw: { ...over.raw, ...under.raw }, additions: [...(under.additions ?? []), over] };
}

/** A later file of groups of words adds words to the groups of the earlier one, and groups of its own. */
function joinGroups(under: Draft, over: Draft): Draft {
  if (!isMapping(under.raw) || !isMapping(over.raw)) return over;
  const raw: Record<string, unknown> = { ...under.raw };
  for (const [group, words] of Object.entries(over.raw)) {
    const there = Object.hasOwn(raw, group) ? raw[group] : [];
    raw[group] = [...new Set([there, words].flat())];
  }
  return { ...under, raw, additions: [...(under.additions ?? []), over] };
}

/** Files that hold many entries: a local one adds to the shipped one. */
const joiners: { readonly [K in Kind]?: (under: Draft, over: Draft) => Draft } = {
  sources: joinSources,
  synonyms: joinGroups,
  phrase_words: joinGroups,
};

/** Lays one change file over the entries, or says what is wrong with it; then nothing of it is in force. */
export function applyChange(change: Draft, stack: Stack): Changed {
  const wrong = checkForm(change);
  if (wrong.length > 0) return { problems: wrong };
  const raw = change.raw as Raw<'change'>;
  const problems: Problem[] = [];
  const add = (code: ProblemCode, path: Path, message: string, help: string) =>
    problems.push(problemIn(change, code, path, { reading: 'a local change', message, help }));
  const find = (id: string, path: Path): Draft | undefined => {
    const there = stack.drafts.get(id);
    if (there !== undefined || stack.off.has(id)) return there;
    const near = suggest(id, stack.drafts.keys());
    add(
      'unknown-name',
      path,
      'there is no entry of this name',
      near ? `Did you mean \`${near}\`?` : '`culprint list` names the entries.',
    );
    return undefined;
  };

  const off = new Map(stack.off);
  const drafts = new Map(stack.drafts);
  for (const [index, id] of (raw['switch-off'] ?? []).entries()) {
    const there = find(id, ['switch-off', index]);
    if (there === undefined) continue;
    const refused = refuseSwitchingOff(there);
    if (refused) add(refused[0], ['switch-off', index], refused[1], refused[2]);
    off.set(id, there);
    drafts.delete(id);
  }
  if (raw.change !== undefined) {
    const there = find(raw.change, ['change']);
    const set = raw.set ?? {};
    if (there !== undefined) {
      const unsafe = takesSafety(there, set);
      if (unsafe !== undefined) {
        add(
          'keeps-safe',
          unsafe,
          'a change may add to what keeps people safe, not take from it',
          there.kind === 'caution'
            ? 'Write a caution of your own beside it.'
            : 'Keep all that stands in the entry.',
        );
      }
      drafts.set(raw.change, laidOver(there, change, set));
    }
  }
  if (raw.change === undefined && raw['switch-off'] === undefined) {
    add(
      'missing-key',
      [],
      'neither `change` nor `switch-off` is there',
      'Name the entry to change, or those to switch off.',
    );
  }
  return problems.length > 0 ? { problems } : { stack: { drafts, off } };
}

function refuseSwitchingOff({ kind, raw }: Draft): [ProblemCode, string, string] | undefined {
  if (kind === 'caution')
    return ['keeps-safe', 'a caution cannot be switched off', 'Switch off the fix that names it.'];
  if (kind === 'symptom' && isMapping(raw) && raw['stop-now'] !== undefined) {
    return ['keeps-safe', 'what calls for stopping at once cannot be switched off', 'Take the line out.'];
  }
  if (isSingleFile(kind)) {
    return ['still-needed', 'everything is built on this', 'Change single values in it instead.'];
  }
  return undefined;
}

function laidOver(under: Draft, change: Draft, set: Record<string, unknown>): Draft {
  return {
    ...under,
    raw: withReports(under, set, merge(under.raw, set)),
    changes: [...under.changes, change.parsed],
    ...(change.local === undefined ? {} : { local: change.local }),
  };
}

/** Reports of a shop come beside those that are there; one more must not cost what the others tell. */
function withReports({ kind, raw }: Draft, set: Record<string, unknown>, merged: unknown): unknown {
  const before = isMapping(raw) ? raw['told'] : undefined;
  const { told } = set;
  if (kind !== 'cause' || !isMapping(merged) || !isMapping(before) || !isMapping(told)) return merged;
  const added = Object.entries(told).map(([complaint, reports]) => [
    complaint,
    Array.isArray(before[complaint]) && Array.isArray(reports) ? [...before[complaint], ...reports] : reports,
  ]);
  return { ...merged, told: { ...before, ...Object.fromEntries(added) } };
}

/** The key with which a change would take away a caution or a bound. */
function takesSafety({ kind, raw }: Draft, set: Record<string, unknown>): Path | undefined {
  if (kind === 'caution') {
    const key = Object.keys(set).find((name) => name !== 'sources');
    return key === undefined ? undefined : ['set', key];
  }
  const before = isMapping(raw) ? raw : {};
  for (const key of ['cautions', 'caps']) {
    if (before[key] !== undefined && key in set && !keepsAll(before[key], set[key])) return ['set', key];
  }
  const stop = 'stop-now';
  return before[stop] !== undefined && stop in set && set[stop] !== before[stop] ? ['set', stop] : undefined;
}

function keepsAll(before: unknown, after: unknown): boolean {
  if (!Array.isArray(before) || !Array.isArray(after)) return false;
  const kept = new Set(after.map((item) => JSON.stringify(item)));
  return before.every((item) => kept.has(JSON.stringify(item)));
}

function isMapping(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Mappings key by key; anything else is replaced. */
function merge(under: unknown, over: unknown): unknown {
  if (!isMapping(under) || !isMapping(over)) return over;
  const merged: Record<string, unknown> = { ...under };
  for (const [key, value] of Object.entries(over)) {
    merged[key] = Object.hasOwn(under, key) ? merge(under[key], value) : value;
  }
  return merged;
}
