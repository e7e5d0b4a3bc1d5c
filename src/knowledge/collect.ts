import type { Draft } from './draft.ts';
import { type Parsed, parseYaml } from './parse.ts';
import { gradeOf, type Problem } from './problem.ts';
import type { FolderContents } from './read.ts';
import type { Kind, Raw } from './schemas.ts';
import { suggest } from './suggest.ts';

export interface Collected {
  readonly drafts: readonly Draft[];
  readonly problems: readonly Problem[];
}

const kindOfFolder: Readonly<Record<string, Kind>> = {
  symptoms: 'symptom',
  signs: 'sign',
  facts: 'fact',
  causes: 'cause',
  fixes: 'fix',
  cautions: 'caution',
  materials: 'material',
  changes: 'change',
};
const kindOfFile: Readonly<Record<string, Kind>> = {
  'words.yaml': 'words',
  'weights.yaml': 'weights',
  'sources.yaml': 'sources',
};
const idPattern = /^[a-z][a-z0-9_]{1,59}$/;
const materialPattern = /^[A-Z][A-Za-z0-9_]{1,29}$/;
/** Names that expressions and conditions give another meaning. */
const reserved = new Set(['and', 'or', 'not', 'is', 'all', 'any', 'below', 'above', 'unknown', 'min', 'max', 'abs', 'if', 'between', 'round_to', 'constructor', 'prototype']);

/** Parses every file of a folder and says what kind of entry each is. `local` marks a folder that lies over the shipped one. */
export function collectDrafts(contents: FolderContents, local: string | undefined): Collected {
  const problems: Problem[] = [...contents.problems];
  const drafts: Draft[] = [];
  for (const { path, text } of contents.files) {
    const parsed = parseYaml(text, `${contents.name}/${path}`);
    const place = placeOf(path);
    if (place === undefined) {
      problems.push(unknownPlace(parsed, path));
      continue;
    }
    problems.push(...parsed.problems);
    const pattern = place.kind === 'material' ? materialPattern : idPattern;
    if (place.kind !== 'change' && (!pattern.test(place.id) || reserved.has(place.id))) {
      problems.push(at(parsed, 'bad-id', 'the name of the file', `\`${place.id}\` cannot be an id`, 'Small letters, digits and _, as in damp_filament.yaml; materials begin with a capital.'));
    } else if (parsed.problems.length === 0) {
      drafts.push({ ...place, file: path, parsed, changes: [], raw: parsed.value, ...(local === undefined ? {} : { local }) });
    }
  }
  return { drafts, problems };
}

function placeOf(path: string): { kind: Kind; id: string; theme: string } | undefined {
  const parts = path.split('/');
  const name = parts[parts.length - 1]!;
  const id = name.replace(/\.ya?ml$/i, '');
  if (parts.length === 1) {
    const kind = kindOfFile[name];
    return kind && { kind, id, theme: '' };
  }
  const kind = kindOfFolder[parts[0]!];
  return kind && { kind, id, theme: parts.slice(1, -1).join('/') };
}

function unknownPlace(parsed: Parsed, path: string): Problem {
  const [folder] = path.split('/');
  const near = suggest(folder!, [...Object.keys(kindOfFolder), ...Object.keys(kindOfFile)]);
  return at(parsed, 'unknown-place', 'the name of the file', 'nothing is read from this place', near ? `Did you mean \`${near}\`?` : `Entries stand in ${Object.keys(kindOfFolder).join(', ')}.`);
}

function at(parsed: Parsed, code: Problem['code'], reading: string, message: string, help: string): Problem {
  return { code, grade: gradeOf(code), file: parsed.file, line: 1, column: 1, length: 1, reading, message, help, lineText: parsed.lineText(1) };
}

/**
 * Lays local folders over the shipped knowledge: what they add, what they change in one entry, what they switch off.
 * Later folders lie over earlier ones.
 */
export function overlay(layers: readonly (readonly Draft[])[]): Collected {
  const problems: Problem[] = [];
  const byId = new Map<string, Draft>();
  for (const drafts of layers) {
    for (const draft of drafts.filter((one) => one.kind !== 'change')) {
      const there = byId.get(draft.id);
      if (there === undefined) byId.set(draft.id, draft);
      else if (there.kind === 'sources' && draft.kind === 'sources') byId.set(draft.id, joinSources(there, draft));
      else problems.push(twice(draft, there));
    }
    for (const draft of drafts.filter((one) => one.kind === 'change')) applyChange(draft, byId, problems);
  }
  return { drafts: [...byId.values()], problems };
}

function twice(draft: Draft, there: Draft): Problem {
  const help =
    draft.local !== undefined && there.local === undefined
      ? `To adjust it, write changes/${draft.id}.yaml with \`change: ${draft.id}\` and \`set:\`.`
      : 'Give one of the two another name.';
  return at(draft.parsed, 'duplicate-id', 'the name of the file', `\`${draft.id}\` is already there: ${there.parsed.file}`, help);
}

function joinSources(under: Draft, over: Draft): Draft {
  return { ...over, raw: { ...(under.raw as object), ...(over.raw as object) } };
}

/** Keys that keep people safe; a change may add to them, not take from them. */
const safetyKeys = ['cautions', 'caps', 'stop-now', 'when'];

function applyChange(draft: Draft, byId: Map<string, Draft>, problems: Problem[]): void {
  const { change, set, 'switch-off': off } = draft.raw as Partial<Raw<'change'>>;
  const add = (code: Problem['code'], path: (string | number)[], message: string, help: string) => {
    const place = draft.parsed.place(path);
    problems.push({ code, grade: gradeOf(code), file: draft.parsed.file, ...place, reading: 'a local change', message, help, lineText: draft.parsed.lineText(place.line) });
  };
  for (const [index, id] of (Array.isArray(off) ? off : []).entries()) {
    const there = byId.get(String(id));
    if (there === undefined) {
      const near = suggest(String(id), byId.keys());
      add('unknown-name', ['switch-off', index], 'there is no entry of this name', near ? `Did you mean \`${near}\`?` : 'Take the line out.');
    } else if (there.kind === 'caution') add('keeps-safe', ['switch-off', index], 'a caution cannot be switched off', 'Switch off the fix that names it instead.');
    else if (['words', 'weights', 'sources'].includes(there.kind)) add('still-needed', ['switch-off', index], 'everything is built on this', 'Change single values in it instead.');
    else byId.delete(there.id);
  }
  if (change === undefined) return;
  const there = byId.get(change);
  if (there === undefined) {
    const near = suggest(change, byId.keys());
    add('unknown-name', ['change'], 'there is no entry of this name', near ? `Did you mean \`${near}\`?` : '`culprint list` names the entries.');
    return;
  }
  for (const key of safetyKeys) {
    if (set && key in set && takesAway(key, (there.raw as Record<string, unknown>)[key], set[key])) {
      add('keeps-safe', ['set', key], 'a change may add to what keeps people safe, not take from it', 'Keep all that stands in the shipped entry.');
      return;
    }
  }
  byId.set(change, {
    ...there,
    raw: merge(there.raw, set ?? {}),
    changes: [...there.changes, draft.parsed],
    ...(draft.local === undefined ? {} : { local: draft.local }),
  });
}

function takesAway(key: string, before: unknown, after: unknown): boolean {
  if (before === undefined) return false;
  if (key === 'when') return false;
  if (key === 'stop-now') return after !== before;
  if (!Array.isArray(before) || !Array.isArray(after)) return true;
  const kept = after.map((item) => JSON.stringify(item));
  return before.some((item) => !kept.includes(JSON.stringify(item)));
}

function isMapping(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Mappings key by key; anything else is replaced. */
function merge(under: unknown, over: unknown): unknown {
  if (!isMapping(under) || !isMapping(over)) return over;
  const merged: Record<string, unknown> = { ...under };
  for (const [key, value] of Object.entries(over)) merged[key] = key in under ? merge(under[key], value) : value;
  return merged;
}
