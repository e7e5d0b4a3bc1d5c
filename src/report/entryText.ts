import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { materialUnits } from '../knowledge/units.ts';

/** One entry for reading: a heading, and under titles of their own sentences or lists. */
export interface EntryText {
  readonly kind: string;
  readonly id: string;
  readonly title: string;
  readonly local?: string;
  readonly parts: readonly EntryPart[];
}

export interface EntryPart {
  readonly title: string;
  readonly lines: readonly string[];
  /** A drawing: its lines are shown as they are. */
  readonly drawing?: boolean;
}

const kinds = {
  symptoms: 'symptom',
  signs: 'sign',
  facts: 'fact',
  causes: 'cause',
  fixes: 'fix',
  materials: 'material',
  cautions: 'caution',
  sources: 'source',
} as const;
type EntryKind = keyof typeof kinds;
const entryKinds = Object.keys(kinds) as EntryKind[];

export function entryIds(knowledge: KnowledgeBase): string[] {
  return entryKinds.flatMap((kind) => Object.keys(knowledge[kind])).sort();
}

/** The whole entry of this id, whatever its kind, as plain data; undefined where there is none. */
export function findEntry(knowledge: KnowledgeBase, id: string) {
  const kind = entryKinds.find((name) => Object.hasOwn(knowledge[name], id));
  return kind === undefined ? undefined : { kind: kinds[kind], entry: knowledge[kind][id]! };
}

/** One entry in words; names of other entries stand with their ids. Undefined where there is none. */
export function entryText(knowledge: KnowledgeBase, id: string): EntryText | undefined {
  const kind = entryKinds.find((name) => Object.hasOwn(knowledge[name], id));
  if (kind === undefined) return undefined;
  const { local } = knowledge[kind][id]!;
  const { title, parts } = new Writer(knowledge).write(kind, id);
  return {
    kind: kinds[kind],
    id,
    title,
    ...(local === undefined ? {} : { local }),
    parts: parts.filter(({ lines }) => lines.length > 0),
  };
}

type Maybe = string | undefined;
const part = (title: string, ...lines: readonly Maybe[]): EntryPart => ({
  title,
  lines: lines.filter((line) => line !== undefined && line !== '') as string[],
});

class Writer {
  private readonly base: KnowledgeBase;
  constructor(base: KnowledgeBase) {
    this.base = base;
  }

  write(kind: EntryKind, id: string): { title: string; parts: EntryPart[] } {
    switch (kind) {
      case 'symptoms':
        return this.symptom(id);
      case 'signs':
        return this.sign(id);
      case 'facts':
        return this.fact(id);
      case 'causes':
        return this.cause(id);
      case 'fixes':
        return this.fix(id);
      case 'materials':
        return this.material(id);
      case 'cautions': {
        const { text, words, sources } = this.base.cautions[id]!;
        return {
          title: text,
          parts: [part('Called for by the words', words.join('; ')), this.sources(sources)],
        };
      }
      case 'sources': {
        const { what, known } = this.base.sources[id]!;
        return { title: what, parts: [part('Known', known)] };
      }
      default:
        return kind satisfies never;
    }
  }

  private nameOf(id: string): string {
    const { symptoms, signs, facts, causes, fixes } = this.base;
    const own = <T>(entries: Readonly<Record<string, T>>) =>
      Object.hasOwn(entries, id) ? entries[id] : undefined;
    const name =
      own(symptoms)?.title ?? own(signs)?.name ?? own(facts)?.name ?? own(causes)?.name ?? own(fixes)?.do;
    return name === undefined ? id : `${name} (${id})`;
  }

  private sources(ids: readonly string[]): EntryPart {
    return part('Sources', ...ids.map((id) => this.base.sources[id]?.what ?? id));
  }

  private symptom(id: string) {
    const { title, look, drawing, alsoCalled, tellApart, under, stopNow } = this.base.symptoms[id]!;
    const below = Object.values(this.base.symptoms).filter((symptom) => symptom.under === id);
    const shownBy = Object.values(this.base.causes).filter(({ links }) =>
      links.some(({ sign }) => sign === id),
    );
    return {
      title,
      parts: [
        part('Caution', stopNow === undefined ? undefined : this.base.cautions[stopNow]?.text),
        part('Look', look),
        { title: 'Drawing', lines: drawing?.replace(/\s+$/, '').split('\n') ?? [], drawing: true },
        part('Also called', alsoCalled.join('; ')),
        part('Under', under === undefined ? undefined : this.nameOf(under)),
        part('What is under it', ...below.map((symptom) => this.nameOf(symptom.id))),
        part(
          'Tell apart',
          ...Object.entries(tellApart).map(([other, { how }]) => `${this.nameOf(other)}: ${how}`),
        ),
        part('Causes that show it', ...shownBy.map((cause) => this.nameOf(cause.id))),
      ],
    };
  }

  private sign(id: string) {
    const sign = this.base.signs[id]!;
    const shownBy = Object.values(this.base.causes).filter(({ links }) =>
      links.some((link) => link.sign === id),
    );
    return {
      title: sign.name,
      parts: [
        part('Question', sign.ask),
        part('Answers', ...sign.levels.map(({ id: level, text }) => `${level}: ${text}`)),
        part('Look', sign.look),
        part('Easily confused with', sign.confusedWith),
        part(
          'Test print',
          sign.test === undefined ? undefined : `${sign.test.minutes} minutes, ${sign.test.grams} g`,
        ),
        part('Also called', sign.alsoCalled.join('; ')),
        part('Causes that show it', ...shownBy.map((cause) => this.nameOf(cause.id))),
      ],
    };
  }

  private fact(id: string) {
    const fact = this.base.facts[id]!;
    const parts =
      fact.kind === 'computed'
        ? [part('Computed', fact.value.text), part('Unit', fact.unit)]
        : [
            part('Question', fact.ask),
            fact.kind === 'number'
              ? part('Range', `${fact.range.join(' to ')} ${fact.unit}`)
              : part('Answers', ...fact.answers.map(({ id: answer, text }) => `${answer}: ${text}`)),
            part('Look', fact.look),
            part('Easily confused with', fact.confusedWith),
            part('Also called', fact.alsoCalled.join('; ')),
          ];
    return { title: fact.name, parts };
  }

  private cause(id: string) {
    const { name, why, usual, links, mistakenFor, sources } = this.base.causes[id]!;
    const removedBy = Object.values(this.base.fixes).filter((fix) => Object.hasOwn(fix.removes, id));
    return {
      title: name,
      parts: [
        part('Why', why),
        part('How usual', usual.word),
        part(
          'Shows',
          ...[...links]
            .sort((a, b) => (b.atLeast[0] ?? 0) - (a.atLeast[0] ?? 0))
            .map(({ sign, atLeast, because }) => {
              const often = `${Math.round((atLeast[0] ?? 0) * 100)} of 100`;
              return `${this.nameOf(sign)}: ${often}${because === undefined ? '' : `. ${because}`}`;
            }),
        ),
        part(
          'Mistaken for',
          ...Object.entries(mistakenFor).map(([other, how]) => `${this.nameOf(other)}: ${how}`),
        ),
        part('Removed by', ...removedBy.map((fix) => this.nameOf(fix.id))),
        this.sources(sources),
      ],
    };
  }

  private fix(id: string) {
    const fix = this.base.fixes[id]!;
    const to = fix.to.map((value) => value.text).join(' to ');
    const whyNumber = fix.whyNumber
      ?.map((piece) => (typeof piece === 'string' ? piece : `{${piece.text}}`))
      .join('');
    return {
      title: fix.do,
      parts: [
        // First: whoever reads only the beginning must have seen them.
        part('Cautions', ...fix.cautions.map((caution) => this.base.cautions[caution]?.text ?? caution)),
        part('Change', fix.set === undefined ? undefined : `${fix.set}${to === '' ? '' : ` to ${to}`}`),
        part('Why this number', whyNumber),
        part('No number', fix.noNumber),
        part(
          'Never',
          ...fix.caps.map(({ atMost, atLeast, because }) => {
            const bounds = [
              atMost === undefined ? undefined : `above ${atMost.text}`,
              atLeast === undefined ? undefined : `below ${atLeast.text}`,
            ];
            return `${bounds.filter((bound) => bound !== undefined).join(' or ')}: ${because}`;
          }),
        ),
        part('Work', `${fix.handsOnMinutes.text} minutes`),
        part('Waiting', `${fix.waitingMinutes.text} minutes`),
        part('Seen when it worked', fix.seenWhenItWorked),
        part('Side effects', ...fix.sideEffects),
        part(
          'May make worse',
          ...Object.entries(fix.worsens).map(([other, how]) => `${this.nameOf(other)}: ${how}`),
        ),
        part(
          'Removes',
          ...Object.entries(fix.removes).map(([cause, { word }]) => `${this.nameOf(cause)}: ${word}`),
        ),
        part('Also called', fix.alsoCalled.join('; ')),
        this.sources(fix.sources),
      ],
    };
  }

  private material(id: string) {
    const { name, family, alsoCalled, properties, chamber, fumes, sources } = this.base.materials[id]!;
    return {
      title: name,
      parts: [
        part('Fumes', fumes),
        part('Family', family),
        part('Also called', alsoCalled.join('; ')),
        part(
          'Properties',
          ...Object.entries(properties).map(
            ([property, { low, high, known }]) =>
              `${property.replaceAll('_', ' ')}: ${low} to ${high} ${materialUnits[property] ?? ''} (${known})`,
          ),
        ),
        part('Air around the part', chamber),
        this.sources(sources),
      ],
    };
  }
}
