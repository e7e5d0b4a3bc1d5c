import { isSingleFile } from './collect.ts';
import { problemIn } from './draft.ts';
import { readsOf } from './evaluate.ts';
import type { Cause, Expression, Fact, Factor, Fix, KnowledgeBase } from './knowledgeBase.ts';
import type { Stack } from './overlay.ts';
import type { Path } from './parse.ts';
import type { Problem, ProblemCode } from './problem.ts';
import type { Raw } from './schemas.ts';
import { suggest } from './suggest.ts';

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/**
 * Checks entries against each other: names that must exist, causes that can be reached and put right, look-alikes that
 * something tells apart. Entries that lean on something missing are left out, again and again until all that is left
 * holds together.
 */
export function crossCheck(
  base: KnowledgeBase,
  stack: Stack,
): { knowledge: KnowledgeBase; problems: Problem[] } {
  const problems: Problem[] = [];
  let knowledge = base;
  for (;;) {
    knowledge = prune(knowledge, stack);
    const checker = new Checker(knowledge, stack);
    checker.run();
    problems.push(...checker.problems);
    if (checker.broken.size === 0) return { knowledge, problems };
    knowledge = without(knowledge, checker.broken);
  }
}

/**
 * Takes out mentions of entries that were switched off, or left out for a problem of their own, where the rest of the
 * entry stands without them: one slip is reported once and does not bring down all that mention it.
 */
function prune(knowledge: KnowledgeBase, { drafts, off }: Stack): KnowledgeBase {
  const { causes, signs, symptoms, facts, materials, sources } = knowledge;
  const stands = (id: string) =>
    [causes, signs, symptoms, facts].some((entries) => Object.hasOwn(entries, id));
  const gone = (id: string) => (drafts.has(id) || off.has(id)) && !stands(id);
  const kept = <T>(record: Readonly<Record<string, T>>) =>
    Object.fromEntries(Object.entries(record).filter(([id]) => !gone(id)));
  const factorHolds = (factor: Factor) => factor.kind === 'when' || !gone(factor.fact);
  // One slip in the file of sources must not take with it every entry that names one.
  const noSources = drafts.has('sources') && Object.keys(sources).length === 0;
  const mapped = <T extends object>(record: Readonly<Record<string, T>>, change: (entry: T) => T) =>
    Object.fromEntries(
      Object.entries(record).map(([id, entry]) => [
        id,
        { ...change(entry), ...(noSources && 'sources' in entry && { sources: [] }) },
      ]),
    );
  return {
    ...knowledge,
    symptoms: mapped(symptoms, (symptom) => ({
      ...symptom,
      tellApart: Object.fromEntries(
        Object.entries(kept(symptom.tellApart)).filter(([, { by }]) => !gone(by)),
      ),
    })),
    facts: mapped(facts, (fact) => withMaterials(fact, materials)),
    causes: mapped(causes, (cause) => ({
      ...cause,
      links: cause.links.filter((link) => !gone(link.sign)),
      factors: cause.factors.filter(factorHolds),
      mistakenFor: kept(cause.mistakenFor),
    })),
    fixes: mapped(knowledge.fixes, (fix) => ({
      ...fix,
      removes: kept(fix.removes),
      worsens: kept(fix.worsens),
    })),
    materials: mapped(materials, (material) => material),
    cautions: mapped(knowledge.cautions, (caution) => caution),
  };
}

/** The materials that stand are the answers; one that was left out cannot be chosen. */
function withMaterials(fact: Fact, materials: KnowledgeBase['materials']): Fact {
  if (fact.kind !== 'material') return fact;
  const stands = fact.answers.map((answer) => Object.hasOwn(materials, answer.id));
  if (stands.every(Boolean)) return fact;
  return {
    ...fact,
    answers: fact.answers.filter((_, index) => stands[index]),
    usual: fact.usual.filter((_, index) => stands[index]),
  };
}

function without(knowledge: KnowledgeBase, broken: ReadonlySet<string>): KnowledgeBase {
  const kept = <T>(entries: Readonly<Record<string, T>>) =>
    Object.fromEntries(Object.entries(entries).filter(([id]) => !broken.has(id)));
  const left: Mutable<KnowledgeBase> = { ...knowledge };
  left.symptoms = kept(knowledge.symptoms);
  left.signs = kept(knowledge.signs);
  left.facts = kept(knowledge.facts);
  left.causes = kept(knowledge.causes);
  left.fixes = kept(knowledge.fixes);
  left.materials = kept(knowledge.materials);
  left.cautions = kept(knowledge.cautions);
  return left;
}

/** Names that may stand somewhere. */
type Names = ReadonlySet<string>;

interface Leaning {
  readonly id: string;
  readonly path: Path;
  readonly kind: string;
  readonly which: 'key' | 'value';
}

/** Parts without which the rest of the entry still stands; `prune` takes them out. */
function isMention(path: Path): boolean {
  if (path[0] === 'tell-apart') return true;
  return (
    path.length === 2 &&
    ['signs', 'likelier-when', 'mistaken-for', 'told', 'removes', 'worsens'].includes(String(path[0]))
  );
}

const idsOf = (entries: object): Names => new Set(Object.keys(entries));

class Checker {
  readonly problems: Problem[] = [];
  readonly broken = new Set<string>();
  private readonly leaning = new Map<string, Leaning[]>();
  private readonly lowest: Names;
  private readonly places: Names;
  private readonly known: Readonly<
    Record<'symptoms' | 'signs' | 'facts' | 'causes' | 'cautions' | 'sources', Names>
  >;
  private readonly observable: Names;
  private readonly readable: Names;
  private readonly tellers: Names;
  private readonly worsened: Names;

  constructor(
    private readonly knowledge: KnowledgeBase,
    private readonly stack: Stack,
  ) {
    const { symptoms, signs, facts, causes, cautions, sources } = knowledge;
    this.places = new Set(Object.values(symptoms).flatMap((symptom) => symptom.under ?? []));
    this.lowest = new Set(
      Object.keys(symptoms).filter((id) => !this.places.has(id) && symptoms[id]!.under !== undefined),
    );
    this.known = {
      symptoms: idsOf(symptoms),
      signs: idsOf(signs),
      facts: idsOf(facts),
      causes: idsOf(causes),
      cautions: idsOf(cautions),
      sources: idsOf(sources),
    };
    const known = this.known;
    this.observable = new Set([...this.lowest, ...known.signs]);
    this.tellers = new Set([...known.signs, ...known.facts]);
    this.readable = new Set([...known.facts, ...known.signs, ...known.symptoms]);
    this.worsened = new Set([...known.signs, ...known.symptoms, ...known.causes]);
  }

  run(): void {
    this.checkSymptoms();
    this.checkAsked();
    this.checkCauses();
    this.checkFixes();
    this.checkCautions();
    this.spread();
    // What is missing because another entry was left out is said once, at that entry; the rest waits for the next round.
    if (this.broken.size === 0) this.checkReach();
    // Warnings last, once nothing more will be left out.
    if (this.broken.size === 0 && this.isWhole()) {
      this.checkUse();
      this.checkSources();
    }
  }

  private add(
    id: string,
    code: ProblemCode,
    path: Path,
    message: string,
    help: string,
    which: 'key' | 'value' = 'value',
  ): void {
    const draft = this.stack.drafts.get(id);
    if (draft === undefined) return;
    const problem = problemIn(draft, code, path, { message, help, which });
    this.problems.push(problem);
    if (problem.grade === 'error') this.broken.add(id);
  }

  /** A name that another entry uses: it exists, or it was left out, or it never was. */
  private name(
    id: string,
    path: Path,
    name: string,
    known: Names,
    kind: string,
    which: 'key' | 'value' = 'value',
  ): boolean {
    const leaning = { id, path, kind, which };
    if (known.has(name)) {
      const others = this.leaning.get(name);
      if (others) others.push(leaning);
      else this.leaning.set(name, [leaning]);
      return true;
    }
    if (this.stack.drafts.has(name) || this.stack.off.has(name)) this.leansOn(name, leaning);
    else {
      const near = suggest(name, known);
      const help = near ? `Did you mean \`${near}\`?` : `Add the ${kind}, or take the line out.`;
      this.add(id, 'unknown-name', path, `there is no ${kind} of this name`, help, which);
    }
    return false;
  }

  private leansOn(name: string, { id, path, kind, which }: Leaning): void {
    const why = this.stack.off.has(name)
      ? 'is switched off'
      : 'has a problem of its own, or is of another kind';
    this.add(id, 'left-out', path, `\`${name}\` ${why}`, `A ${kind} is needed here.`, which);
  }

  /** Whatever leans on an entry that breaks, breaks with it, however long the chain. */
  private spread(): void {
    const breaking = new Set(this.broken);
    for (const name of breaking) {
      for (const leaning of this.leaning.get(name) ?? []) {
        if (isMention(leaning.path) || this.broken.has(leaning.id)) continue;
        this.leansOn(name, leaning);
        breaking.add(leaning.id);
      }
    }
  }

  private checkSymptoms(): void {
    const { symptoms } = this.knowledge;
    const above = (id: string) => [symptoms[id]?.under ?? []].flat();
    for (const symptom of Object.values(symptoms)) {
      const { id, under } = symptom;
      if (
        under !== undefined &&
        this.name(id, ['under'], under, this.known.symptoms, 'symptom') &&
        leadsBack(id, above)
      ) {
        this.add(
          id,
          'cycle',
          ['under'],
          'going up the tree from here leads back here',
          'Let one of them stand at the top.',
        );
      }
      if (symptom.stopNow !== undefined)
        this.name(id, ['stop-now'], symptom.stopNow, this.known.cautions, 'caution');
      for (const [other, { by }] of Object.entries(symptom.tellApart)) {
        this.name(id, ['tell-apart', other], other, this.lowest, 'symptom', 'key');
        this.name(id, ['tell-apart', other, 'by'], by, this.tellers, 'sign or fact');
      }
      if (this.lowest.has(id) && symptom.drawing === undefined) {
        this.add(
          id,
          'bad-drawing',
          ['title'],
          'what exactly is seen has no drawing',
          'Draw it in at most 9 lines of 60 plain characters.',
        );
      }
    }
  }

  private checkAsked(): void {
    const { facts, signs } = this.knowledge;
    const computedFrom = (id: string) => {
      const fact = facts[id];
      return fact?.kind === 'computed' ? fact.value.reads : [];
    };
    for (const fact of Object.values(facts)) {
      if (fact.kind !== 'computed') {
        if (fact.askWhen) this.reads(fact.id, ['ask-when'], readsOf(fact.askWhen));
        continue;
      }
      this.expression(fact.id, ['value'], fact.value);
      if (leadsBack(fact.id, computedFrom)) {
        this.add(
          fact.id,
          'cycle',
          ['value'],
          'it is computed from itself, by way of others',
          'Compute it from facts that can be asked.',
        );
      }
    }
    for (const sign of Object.values(signs))
      if (sign.askWhen) this.reads(sign.id, ['ask-when'], readsOf(sign.askWhen));
  }

  private reads(id: string, path: Path, names: readonly string[]): void {
    for (const name of names) this.name(id, path, name, this.readable, 'fact, sign or symptom');
  }

  private expression(id: string, path: Path, expression: Expression | undefined): void {
    if (expression) this.reads(id, path, expression.reads);
  }

  private checkCauses(): void {
    const { causes } = this.knowledge;
    for (const cause of Object.values(causes)) {
      for (const link of cause.links) {
        const path = ['signs', link.sign];
        if (this.places.has(link.sign)) {
          this.add(
            cause.id,
            'not-lowest',
            path,
            `\`${link.sign}\` is a place, not what exactly is seen there`,
            'Name a symptom that stands under it.',
            'key',
          );
        } else this.name(cause.id, path, link.sign, this.observable, 'sign or symptom', 'key');
        link.when.forEach(({ when }, index) => {
          this.reads(cause.id, [...path, 'when', index, 'if'], readsOf(when));
        });
      }
      for (const factor of cause.factors) this.checkFactor(cause, factor);
      this.checkTold(cause);
      for (const other of Object.keys(cause.mistakenFor)) {
        const path = ['mistaken-for', other];
        if (!this.name(cause.id, path, other, this.known.causes, 'cause', 'key')) continue;
        if (!this.separated(cause, causes[other]!)) {
          this.add(
            cause.id,
            'not-separated',
            path,
            'no sign and no fact tells the two apart',
            'Link a sign to one of them, or give a fact different odds in the two.',
            'key',
          );
        }
      }
      this.sources(cause.id, cause.sources);
    }
  }

  /** Reports of a symptom that was left out or switched off are passed over. */
  private checkTold({ id }: Cause): void {
    const { drafts, off } = this.stack;
    for (const complaint of Object.keys(this.knowledge.wording.told[id] ?? {})) {
      const gone = (drafts.has(complaint) || off.has(complaint)) && !this.readable.has(complaint);
      if (!gone) this.name(id, ['told', complaint], complaint, this.lowest, 'symptom', 'key');
    }
  }

  private checkFactor(cause: Cause, factor: Factor): void {
    if (factor.kind === 'when') this.reads(cause.id, ['also-when'], readsOf(factor.when));
    else {
      this.reads(cause.id, ['likelier-when', factor.fact], [factor.fact]);
      if (factor.kind === 'limit')
        this.expression(cause.id, ['likelier-when', factor.fact, `bad-${factor.badSide}`], factor.limit);
    }
  }

  private separated(one: Cause, other: Cause): boolean {
    const strength = (cause: Cause) =>
      new Map(cause.links.map((link) => [link.sign, JSON.stringify([link.atLeast, link.when])]));
    const a = strength(one);
    const b = strength(other);
    const signsDiffer = [...new Set([...a.keys(), ...b.keys()])].some((sign) => a.get(sign) !== b.get(sign));
    const odds = (cause: Cause) => JSON.stringify(cause.factors.map(({ because: _, ...factor }) => factor));
    return signsDiffer || odds(one) !== odds(other);
  }

  private sources(id: string, sources: readonly string[]): void {
    sources.forEach((source, index) => {
      this.name(id, ['sources', index], source, this.known.sources, 'source');
    });
  }

  private checkSources(): void {
    const { causes, fixes, materials, cautions } = this.knowledge;
    for (const entries of [causes, fixes, materials, cautions]) {
      for (const { id, sources } of Object.values(entries)) {
        if (sources.length > 0) continue;
        this.add(
          id,
          'no-source',
          [],
          'it does not say where its figures come from',
          'Add `sources: [trade_practice]`, or the publication.',
        );
      }
    }
  }

  private checkFixes(): void {
    for (const fix of Object.values(this.knowledge.fixes)) {
      for (const cause of Object.keys(fix.removes))
        this.name(fix.id, ['removes', cause], cause, this.known.causes, 'cause', 'key');
      for (const worse of Object.keys(fix.worsens))
        this.name(fix.id, ['worsens', worse], worse, this.worsened, 'sign, symptom or cause', 'key');
      fix.cautions.forEach((caution, index) => {
        this.name(fix.id, ['cautions', index], caution, this.known.cautions, 'caution');
      });
      if (Object.keys(fix.removes).length === 0) this.removesNothing(fix.id);
      if (fix.when) this.reads(fix.id, ['when'], readsOf(fix.when));
      for (const [path, expression] of expressionsOf(fix)) this.expression(fix.id, path, expression);
      fix.caps.forEach((cap, index) => {
        if (cap.when) this.reads(fix.id, ['caps', index, 'if'], readsOf(cap.when));
      });
      this.sources(fix.id, fix.sources);
    }
  }

  private checkCautions(): void {
    for (const caution of Object.values(this.knowledge.cautions)) {
      if (caution.when) this.reads(caution.id, ['when'], readsOf(caution.when));
      this.sources(caution.id, caution.sources);
    }
    for (const material of Object.values(this.knowledge.materials))
      this.sources(material.id, material.sources);
  }

  private checkReach(): void {
    const removed = new Set(Object.values(this.knowledge.fixes).flatMap((fix) => Object.keys(fix.removes)));
    for (const cause of Object.values(this.knowledge.causes)) {
      if (!cause.links.some((link) => this.lowest.has(link.sign))) {
        this.add(
          cause.id,
          'unreachable',
          ['signs'],
          'it shows no symptom, so no complaint leads to it',
          'Link it to what exactly is seen on the print.',
          'key',
        );
      }
      if (!removed.has(cause.id)) this.hasNoFix(cause.id);
    }
  }

  private removesNothing(fix: string): void {
    const { raw } = this.stack.drafts.get(fix) ?? {};
    const wanted = Object.keys((raw as Raw<'fix'>).removes);
    if (wanted.length === 0)
      this.add(fix, 'no-fix', ['removes'], 'it removes no cause', 'Name at least one cause.');
    else
      this.add(
        fix,
        'left-out',
        ['removes'],
        `${listed(wanted)} is left out or switched off`,
        'It comes back with its cause.',
      );
  }

  private hasNoFix(cause: string): void {
    const fixes = [...this.stack.drafts.values(), ...this.stack.off.values()].filter(
      ({ kind, raw }) =>
        kind === 'fix' &&
        Object.hasOwn(((raw as Partial<Raw<'fix'>> | undefined)?.removes ?? {}) as object, cause),
    );
    if (fixes.length > 0) {
      const names = listed(fixes.map(({ id }) => id));
      this.add(
        cause,
        'left-out',
        [],
        `nothing is left that removes it: ${names} is left out or switched off`,
        'It comes back with its fix.',
      );
    } else {
      this.add(
        cause,
        'no-fix',
        [],
        'no fix removes it',
        `Name \`${cause}\` under \`removes:\` of a fix, or add one.`,
      );
    }
  }

  /** Whether nothing was left out or switched off: what then is not used never was. */
  private isWhole(): boolean {
    const { symptoms, signs, facts, causes, fixes, materials, cautions, sources } = this.knowledge;
    const standing = new Set(
      [symptoms, signs, facts, causes, fixes, materials, cautions].flatMap((entries) => Object.keys(entries)),
    );
    const all = [...this.stack.drafts.values()].every(
      ({ kind, id }) =>
        standing.has(id) || (kind === 'sources' ? Object.keys(sources).length > 0 : isSingleFile(kind)),
    );
    return all && this.stack.off.size === 0;
  }

  private checkUse(): void {
    const { causes, fixes, facts, signs, cautions, symptoms } = this.knowledge;
    const used = new Set<string>();
    const use = (names: Iterable<string>) => {
      for (const name of names) used.add(name);
    };
    for (const cause of Object.values(causes)) {
      for (const link of cause.links) use([link.sign, ...link.when.flatMap(({ when }) => readsOf(when))]);
      for (const factor of cause.factors)
        use(
          factor.kind === 'when'
            ? readsOf(factor.when)
            : [factor.fact, ...(factor.kind === 'limit' ? factor.limit.reads : [])],
        );
    }
    for (const fix of Object.values(fixes)) {
      if (fix.set) use([fix.set]);
      if (fix.when) use(readsOf(fix.when));
      for (const [, expression] of expressionsOf(fix)) use(expression?.reads ?? []);
      for (const cap of fix.caps) if (cap.when) use(readsOf(cap.when));
    }
    for (const caution of Object.values(cautions)) if (caution.when) use(readsOf(caution.when));
    for (const symptom of Object.values(symptoms)) use(Object.values(symptom.tellApart).map(({ by }) => by));
    for (const entry of [...Object.values(facts), ...Object.values(signs)])
      if ('askWhen' in entry && entry.askWhen) use(readsOf(entry.askWhen));
    for (const fact of Object.values(facts)) if (fact.kind === 'computed') use(fact.value.reads);
    for (const id of [...Object.keys(signs), ...Object.keys(facts)]) {
      if (!used.has(id))
        this.add(id, 'unused', [], 'nothing refers to it', 'Link it to a cause, or take it out.');
    }
  }
}

function listed(ids: readonly string[]): string {
  return ids.map((id) => `\`${id}\``).join(', ');
}

/** Whether going on from one entry to the next comes back to it. */
function leadsBack(start: string, next: (id: string) => readonly string[]): boolean {
  const passed = new Set(next(start));
  for (const id of passed) {
    if (id === start) return true;
    for (const further of next(id)) passed.add(further);
  }
  return false;
}

function expressionsOf(fix: Fix): [Path, Expression | undefined][] {
  return [
    [['from'], fix.from],
    ...fix.to.map((expression): [Path, Expression] => [['to'], expression]),
    [['hands-on-minutes'], fix.handsOnMinutes],
    [['waiting-minutes'], fix.waitingMinutes],
    [['grams'], fix.grams],
    ...(fix.whyNumber ?? []).flatMap((part): [Path, Expression][] =>
      typeof part === 'string' ? [] : [[['why-this-number'], part]],
    ),
    ...fix.caps.flatMap((cap): [Path, Expression | undefined][] => [
      [['caps'], cap.atMost],
      [['caps'], cap.atLeast],
    ]),
  ];
}
