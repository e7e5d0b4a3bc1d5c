import { checkSaidByAnswer, checkSaidNumber } from './checkSaid.ts';
import type { Answer, Fact } from './knowledgeBase.ts';
import { entryOf, isYes, maybe, type Reading } from './reading.ts';
import type { Raw } from './schemas.ts';
import { suggest } from './suggest.ts';
import { isUnit, materialUnits } from './units.ts';

type Asked = Exclude<Raw<'fact'>, { kind: 'computed' }>;

export function readFact(reading: Reading, raw: Raw<'fact'>): Fact {
  const entry = entryOf(reading.draft);
  if (raw.kind === 'computed') {
    checkUnit(reading, raw.unit);
    const value = reading.expression(raw.value, ['value'], isUnit(raw.unit) ? raw.unit : undefined);
    return {
      ...entry,
      name: raw.name,
      topic: raw.topic,
      kind: 'computed',
      unit: raw.unit,
      value,
      rankOnly: isYes(raw['rank-only']),
    };
  }
  const common = { ...entry, ...readAsked(reading, raw) };
  if (raw.kind === 'number') return { ...common, ...readNumber(reading, raw) };
  if (raw.kind === 'material') {
    const answers = [...reading.context.materialNames].map(([id, { text }]) => ({ id, text }));
    const usual = [...reading.context.materialNames.values()].map((material) => material.usual);
    const { absentMaterials } = reading.context;
    const known = [...answers, ...[...absentMaterials].map((id) => ({ id, text: id }))];
    checkSaidByAnswer(reading, raw.said, known);
    return { ...common, kind: 'material', answers, usual, usualFor: {} };
  }
  const answers = answersOf(raw);
  checkSaidByAnswer(reading, raw.said, answers);
  return {
    ...common,
    kind: raw.kind,
    answers,
    usual: readUsual(reading, raw.usual, answers, ['usual']),
    usualFor: byMaterial(reading, 'usual-for', raw['usual-for'], (parts, path) =>
      readUsual(reading, parts, answers, path),
    ),
  };
}

function checkAlone(
  reading: Reading,
  alone: readonly [number, number] | undefined,
  [low, high]: readonly [number, number],
): void {
  if (alone === undefined || (low <= alone[0] && alone[0] < alone[1] && alone[1] <= high)) return;
  reading.add('wrong-order', ['said-alone'], {
    message: 'this is not a part of its range',
    help: `Two numbers from ${low} to ${high}, the lower first.`,
  });
}

export function answersOf(raw: Extract<Asked, { kind: 'choice' | 'yes_no' }>): Answer[] {
  const texts = raw.kind === 'yes_no' ? { yes: 'yes', no: 'no' } : raw.answers;
  return Object.entries(texts).map(([id, text]) => ({ id, text }));
}

function readAsked(reading: Reading, raw: Asked) {
  return {
    name: raw.name,
    topic: raw.topic,
    ask: raw.ask,
    look: raw.look.trim(),
    ...maybe('confusedWith', raw['confused-with']),
    effortSeconds: raw['effort-seconds'],
    cannotTell: reading.word('links', raw['cannot-tell'], ['cannot-tell'], undefined).value,
    onset: isYes(raw.onset),
    first: isYes(raw.first),
    ...maybe('askWhen', raw['ask-when'] && reading.condition(raw['ask-when'], ['ask-when'], true)),
    alsoCalled: raw['also-called'] ?? [],
  };
}

function readNumber(reading: Reading, raw: Extract<Asked, { kind: 'number' }>) {
  checkUnit(reading, raw.unit);
  const [low, high] = raw.range;
  checkSaidNumber(reading, raw.said, raw.range);
  checkAlone(reading, raw['said-alone'], raw.range);
  if (!(low < high))
    reading.add('wrong-order', ['range'], {
      message: 'the first must be below the second',
      help: 'As in [0, 90].',
    });
  checkSpread(reading, raw.typical, raw.range, ['typical']);
  const within = raw['within-material'];
  if (within !== undefined && !Object.hasOwn(materialUnits, within)) {
    unknownName(reading, within, Object.keys(materialUnits), ['within-material'], 'material property');
  }
  return {
    kind: 'number' as const,
    unit: raw.unit,
    range: raw.range,
    typical: raw.typical,
    typicalFor: byMaterial(reading, 'typical-for', raw['typical-for'], (spread, path) => {
      checkSpread(reading, spread, raw.range, path);
      return spread;
    }),
    assume: isYes(raw.assume),
    ...maybe('withinMaterial', within),
    ...maybe('saidAlone', raw['said-alone']),
  };
}

function checkSpread(
  reading: Reading,
  [a, b, c]: readonly number[],
  [low, high]: readonly number[],
  path: string[],
): void {
  if (a! <= b! && b! <= c! && a! >= low! && c! <= high!) return;
  reading.add('wrong-order', path, {
    message: 'the three values must rise and lie within `range`',
    help: 'One print in ten lies below the first, half below the second, one in ten above the third.',
  });
}

function readUsual(
  reading: Reading,
  parts: Readonly<Record<string, number>>,
  answers: readonly Answer[],
  path: string[],
): number[] {
  for (const id of Object.keys(parts)) {
    if (answers.some((answer) => answer.id === id)) continue;
    const near = suggest(
      id,
      answers.map((answer) => answer.id),
    );
    reading.add('unknown-answer', [...path, id], {
      message: 'this is not one of the answers',
      help: near ? `Did you mean \`${near}\`?` : 'The answers stand above.',
      which: 'key',
    });
  }
  // Nothing is impossible: an answer left out is rare, not excluded.
  const usual = answers.map((answer) => parts[answer.id] || 0.05);
  return usual;
}

function checkUnit(reading: Reading, unit: string): void {
  if (!isUnit(unit)) {
    reading.add('unit-mismatch', ['unit'], {
      message: 'do not know this unit',
      help: 'Units are mm, deg, degC, K, mm/s, mm3/s, s, min, h, g, percent, ratio and their like.',
    });
  }
}

function byMaterial<T, U>(
  reading: Reading,
  key: string,
  rows: Readonly<Record<string, T>> | undefined,
  read: (row: T, path: string[]) => U,
): Record<string, U> {
  const { materials, absentMaterials } = reading.context;
  const kept: [string, U][] = [];
  for (const [material, row] of Object.entries(rows ?? {})) {
    if (absentMaterials.has(material)) continue;
    const path = [key, material];
    if (!materials.includes(material)) unknownName(reading, material, materials, path, 'material', 'key');
    kept.push([material, read(row, path)]);
  }
  return Object.fromEntries(kept);
}

export function unknownName(
  reading: Reading,
  name: string,
  known: readonly string[],
  path: (string | number)[],
  kind: string,
  which: 'key' | 'value' = 'value',
): void {
  const near = suggest(name, known);
  reading.add('unknown-name', path, {
    message: `there is no ${kind} of this name`,
    help: near ? `Did you mean \`${near}\`?` : `Add the ${kind}, or take the line out.`,
    which,
  });
}
