import type { Draft } from './draft.ts';
import { type Parsed, parseYaml } from './parse.ts';
import { gradeOf, type Problem } from './problem.ts';
import type { FolderContents } from './read.ts';
import type { Kind } from './schemas.ts';
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
/** Files that hold many entries, or none that has a name. */
export const kindOfFile: Readonly<Record<string, Kind>> = {
  'words.yaml': 'words',
  'weights.yaml': 'weights',
  'sources.yaml': 'sources',
  'synonyms.yaml': 'synonyms',
  'phrase_words.yaml': 'phrase_words',
};
export function isSingleFile(kind: Kind): boolean {
  return Object.hasOwn(kindOfFile, `${kind}.yaml`);
}

/** Folders that causes and fixes are kept in. */
export const themes: readonly string[] = [
  'filament',
  'heat',
  'cooling',
  'first_layer',
  'extrusion',
  'motion',
  'electronics',
  'geometry',
  'room',
  'settings',
  'operator',
];
const idPattern = /^[a-z][a-z0-9_]{1,59}$/;
const materialPattern = /^[A-Z][A-Za-z0-9_]{1,29}$/;
/** Names that expressions, conditions or the language underneath give another meaning. */
const reserved = new Set(
  `and or not is all any below above unknown min max abs if between round_to constructor prototype ${Object.keys(
    kindOfFile,
  )
    .map((name) => name.replace('.yaml', ''))
    .join(' ')}`.split(' '),
);

/** Parses every file of a folder and says what kind of entry each is. `local` marks a folder that lies over the shipped one. */
export function collectDrafts(contents: FolderContents, local: string | undefined): Collected {
  const problems: Problem[] = [...contents.problems];
  const drafts: Draft[] = [];
  const unread = contents.unread.map((path) => ({ path, text: undefined }));
  for (const { path, text } of [...contents.files, ...unread]) {
    const parsed = parseYaml(text ?? '', `${contents.name}/${path}`);
    const place = placeOf(path);
    if ('help' in place) {
      problems.push(atFileName(parsed, 'unknown-place', 'nothing is read from this place', place.help));
      continue;
    }
    problems.push(...parsed.problems);
    if (isBadId(place)) {
      problems.push(
        atFileName(
          parsed,
          'bad-id',
          `\`${place.id}\` cannot be an id`,
          'Small letters, digits and _, as in damp_filament.yaml; materials begin with a capital.',
        ),
      );
    } else {
      const isRead = text !== undefined && parsed.problems.length === 0;
      const origin = local === undefined ? {} : { local };
      drafts.push({
        ...place,
        file: path,
        parsed,
        changes: [],
        raw: isRead ? parsed.value : undefined,
        ...origin,
      });
    }
  }
  return { drafts, problems };
}

function isBadId({ kind, id }: FilePlace): boolean {
  if (kind === 'change' || isSingleFile(kind)) return false;
  return !(kind === 'material' ? materialPattern : idPattern).test(id) || reserved.has(id);
}

interface FilePlace {
  readonly kind: Kind;
  readonly id: string;
  readonly theme: string;
}

/** What kind of entry a path stands for, or what a file there should be called instead. */
function placeOf(path: string): FilePlace | { help: string } {
  const folders = path.split('/');
  const name = folders.pop()!;
  const [folder, ...inside] = folders;
  const id = name.replace(/\.ya?ml$/i, '');
  if (!name.endsWith('.yaml')) return { help: `Call it \`${id}.yaml\`.` };
  if (folder === undefined) {
    const kind = Object.hasOwn(kindOfFile, name) ? kindOfFile[name] : undefined;
    return kind ? { kind, id, theme: '' } : { help: helpWith(name, Object.keys(kindOfFile)) };
  }
  const kind = Object.hasOwn(kindOfFolder, folder) ? kindOfFolder[folder] : undefined;
  if (kind === undefined) return { help: helpWith(folder, Object.keys(kindOfFolder)) };
  if (kind !== 'cause' && kind !== 'fix') {
    return inside.length === 0 ? { kind, id, theme: '' } : { help: `It stands in \`${folder}\` itself.` };
  }
  const theme = inside.join('/');
  return themes.includes(theme) ? { kind, id, theme } : { help: helpWith(theme, themes) };
}

function helpWith(name: string, known: readonly string[]): string {
  const near = suggest(name, known);
  return near ? `Did you mean \`${near}\`?` : `I know ${known.map((one) => `\`${one}\``).join(', ')}.`;
}

/** A problem with what a file is called: it points at the file's beginning. */
export function atFileName(parsed: Parsed, code: Problem['code'], message: string, help: string): Problem {
  return {
    code,
    grade: gradeOf(code),
    file: parsed.file,
    line: 1,
    column: 1,
    length: 1,
    reading: 'the name of the file',
    message,
    help,
    lineText: parsed.lineText(1),
  };
}
