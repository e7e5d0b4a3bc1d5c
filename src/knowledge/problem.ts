/** One thing wrong in a knowledge file: the writer's mistake, as data. Collected, never thrown; worded on the screen elsewhere. */
export interface Problem {
  readonly code: ProblemCode;
  /** An entry with an error is left out; a warning leaves everything in force. */
  readonly grade: 'error' | 'warning';
  /** The file as a person finds it: the folder's name, then the path inside it. */
  readonly file: string;
  /** From 1; column and length in UTF-16 units of `lineText`. */
  readonly line: number;
  readonly column: number;
  readonly length: number;
  /** Completes "I was reading ...". */
  readonly reading: string;
  /** Completes "..., and ...": why it is wrong, without a full stop. */
  readonly message: string;
  /** What would be right: sentences. */
  readonly help: string;
  /** The line as it stands in the file, uncleaned; empty where the file has no such line. */
  readonly lineText: string;
}

/** Every kind of mistake, with its short name and what it means. The codes are stable: tests and scripts rely on them. */
export const problemCodes = {
  unreadable: { title: 'unreadable', means: 'The file or folder cannot be read.' },
  'too-big': {
    title: 'too big',
    means: 'The file, or the number of files or of things in it, passes the bound.',
  },
  'too-deep': {
    title: 'nested too deep',
    means: 'Lists and mappings stand in each other deeper than any entry needs.',
  },
  'bad-text': {
    title: 'bad characters',
    means: 'The file is not UTF-8, or holds characters that could disturb a terminal.',
  },
  'bad-yaml': { title: 'not YAML', means: 'The file breaks the rules of YAML.' },
  'no-alias': {
    title: 'anchor, alias or tag',
    means: 'Anchors, aliases and tags are not used in knowledge files.',
  },
  'duplicate-key': { title: 'key given twice', means: 'The same key stands twice in one mapping.' },
  'unknown-place': {
    title: 'unknown place',
    means: 'Nothing is read from a file of this name in this folder.',
  },
  'bad-id': { title: 'bad id', means: 'The id cannot be used as a name in knowledge files.' },
  'duplicate-id': { title: 'id given twice', means: 'Another entry has the same id.' },
  'missing-key': { title: 'missing key', means: 'A key that the entry needs is not there.' },
  'unknown-key': { title: 'unknown key', means: 'The entry has a key that means nothing here.' },
  'wrong-kind': {
    title: 'wrong kind',
    means: 'The value is of another kind than is needed, such as a list for a text.',
  },
  'out-of-range': { title: 'out of range', means: 'A number, a text or a list is too small or too large.' },
  'wrong-order': { title: 'wrong order', means: 'Numbers that must rise or fall do not.' },
  'unknown-word': { title: 'unknown word', means: 'The word is not one of those that may stand here.' },
  'needs-because': {
    title: 'number without a reason',
    means: 'A bare number stands for a word without saying why.',
  },
  'unknown-name': { title: 'unknown name', means: 'Nothing of this name exists.' },
  'unknown-answer': {
    title: 'unknown answer',
    means: 'The fact has no such answer, or the sign no such level.',
  },
  'not-lowest': {
    title: 'not a lowest symptom',
    means: 'A place in the tree of symptoms stands where only what is seen there may.',
  },
  'left-out': {
    title: 'leans on a bad entry',
    means: 'The entry needs another one that has a problem of its own.',
  },
  'bad-expression': { title: 'bad expression', means: 'The expression cannot be understood.' },
  'unit-mismatch': {
    title: 'units do not match',
    means: 'A quantity has a unit of another kind than is needed.',
  },
  'bad-condition': { title: 'bad condition', means: 'The condition cannot be understood.' },
  'bad-phrase': { title: 'bad phrase', means: 'A phrase of `said` cannot be understood.' },
  'bad-drawing': {
    title: 'bad drawing',
    means: 'The drawing is missing, too large, or not of plain characters.',
  },
  cycle: { title: 'goes in a circle', means: 'Entries stand under, or are computed from, each other.' },
  unreachable: { title: 'never blamed', means: 'The cause shows no symptom, so no diagnosis can reach it.' },
  'no-fix': { title: 'no fix', means: 'No fix removes the cause.' },
  'no-number': {
    title: 'no number',
    means: 'The fix gives neither a number nor the reason why it has none.',
  },
  'not-separated': {
    title: 'look-alikes not told apart',
    means: 'No sign and no fact separates two causes that are mistaken for each other.',
  },
  unused: { title: 'not used', means: 'Nothing refers to the entry.' },
  'no-source': { title: 'no source', means: 'The entry does not say where its figures come from.' },
  'keeps-safe': { title: 'takes safety away', means: 'A change would take away a caution or a bound.' },
  'still-needed': { title: 'still needed', means: 'An entry is switched off on which others are built.' },
} as const satisfies Record<string, { title: string; means: string }>;

export type ProblemCode = keyof typeof problemCodes;

const warnings: ReadonlySet<ProblemCode> = new Set(['unused', 'no-source', 'unknown-place']);

export function gradeOf(code: ProblemCode): Problem['grade'] {
  return warnings.has(code) ? 'warning' : 'error';
}

/** By file, then by place in it, so that one file's problems stand together. */
export function sortProblems(problems: readonly Problem[]): Problem[] {
  const order = (a: Problem, b: Problem) =>
    a.file < b.file ? -1 : a.file > b.file ? 1 : a.line - b.line || a.column - b.column;
  return [...problems].sort(order);
}
