import { type Draft, problemIn } from './draft.ts';
import { readsOf } from './evaluate.ts';
import type { Cause, Expression, Factor, Fix, KnowledgeBase } from './knowledgeBase.ts';
import type { Path } from './parse.ts';
import type { Problem, ProblemCode } from './problem.ts';
import { suggest } from './suggest.ts';

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/**
 * Checks entries against each other: names that must exist, causes that can be reached and put right, look-alikes that
 * something tells apart. Entries that lean on something missing are left out, again and again until all that is left
 * holds together.
 */
export function crossCheck(base: KnowledgeBase, drafts: ReadonlyMap<string, Draft>) {
  const problems: Problem[] = [];
  let knowledge = base;
  for (;;) {
    knowledge = prune(knowledge, drafts);
    const checker = new Checker(knowledge, drafts);
    checker.run();
    problems.push(...checker.problems);
    if (checker.broken.size === 0) return { knowledge, problems };
    knowledge = without(knowledge, checker.broken);
  }
}

/**
 * Takes out mentions of entries that were left out for a problem of their own, where the rest of the entry stands without
 * them: one slip is reported once and does not bring down all that mention it.
 */
function prune(knowledge: KnowledgeBase, drafts: ReadonlyMap<string, Draft>): KnowledgeBase {
  const { causes, signs, symptoms, facts } = knowledge;
  const gone = (id: string) =>
    drafts.has(id) && !(id in causes || id in signs || id in symptoms || id in facts);
  const kept = <T>(record: Readonly<Record<string, T>>) =>
    Object.fromEntries(Object.entries(record).filter(([id]) => !gone(id)));
  const factorHolds = (factor: Factor) =>
    !(factor.kind === 'answers' || factor.kind === 'limit') || !gone(factor.fact);
  const mapped = <T>(record: Readonly<Record<string, T>>, change: (entry: T) => T) =>
    Object.fromEntries(Object.entries(record).map(([id, entry]) => [id, change(entry)]));
  return {
    ...knowledge,
    symptoms: mapped(symptoms, (symptom) => ({ ...symptom, tellApart: kept(symptom.tellApart) })),
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

class Checker {
  readonly problems: Problem[] = [];
  readonly broken = new Set<string>();
  private readonly lowest: ReadonlySet<string>;
  private readonly places: ReadonlySet<string>;

  constructor(
    private readonly knowledge: KnowledgeBase,
    private readonly drafts: ReadonlyMap<string, Draft>,
  ) {
    this.places = new Set(Object.values(knowledge.symptoms).flatMap((symptom) => symptom.under ?? []));
    this.lowest = new Set(
      Object.keys(knowledge.symptoms).filter(
        (id) => !this.places.has(id) && knowledge.symptoms[id]!.under !== undefined,
      ),
    );
  }

  run(): void {
    this.checkSymptoms();
    this.checkAsked();
    this.checkCauses();
    this.checkFixes();
    this.checkCautions();
    // What is missing because another entry was left out is said once, at that entry; the rest waits for the next round.
    if (this.broken.size === 0) this.checkReach();
    // Warnings last, once nothing more will be left out.
    if (this.broken.size === 0) {
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
    const draft = this.drafts.get(id);
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
    known: readonly string[],
    kind: string,
    which: 'key' | 'value' = 'value',
  ): boolean {
    if (known.includes(name)) return true;
    if (this.drafts.has(name))
      this.add(
        id,
        'left-out',
        path,
        `\`${name}\` has a problem of its own, or is of another kind`,
        `A ${kind} is needed here.`,
        which,
      );
    else {
      const near = suggest(name, known);
      this.add(
        id,
        'unknown-name',
        path,
        `there is no ${kind} of this name`,
        near ? `Did you mean \`${near}\`?` : `Add the ${kind}, or take the line out.`,
        which,
      );
    }
    return false;
  }

  private seen(): string[] {
    return [...this.lowest, ...Object.keys(this.knowledge.signs)];
  }

  private checkSymptoms(): void {
    const { symptoms, signs, facts, cautions } = this.knowledge;
    for (const symptom of Object.values(symptoms)) {
      const { id, under } = symptom;
      if (
        under !== undefined &&
        this.name(id, ['under'], under, Object.keys(symptoms), 'symptom') &&
        this.goesRound(id)
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
        this.name(id, ['stop-now'], symptom.stopNow, Object.keys(cautions), 'caution');
      for (const [other, { by }] of Object.entries(symptom.tellApart)) {
        this.name(id, ['tell-apart', other], other, [...this.lowest], 'symptom', 'key');
        this.name(
          id,
          ['tell-apart', other, 'by'],
          by,
          [...Object.keys(signs), ...Object.keys(facts)],
          'sign or fact',
        );
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

  private goesRound(start: string): boolean {
    const { symptoms } = this.knowledge;
    let above = symptoms[start]?.under;
    for (let steps = 0; above !== undefined && steps <= Object.keys(symptoms).length; steps++) {
      if (above === start) return true;
      above = symptoms[above]?.under;
    }
    return false;
  }

  private checkAsked(): void {
    const { facts, signs } = this.knowledge;
    for (const fact of Object.values(facts)) {
      if (fact.kind !== 'computed') {
        if (fact.askWhen) this.reads(fact.id, ['ask-when'], readsOf(fact.askWhen));
        continue;
      }
      this.expression(fact.id, ['value'], fact.value);
      if (this.readsItself(fact.id)) {
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

  private readsItself(start: string): boolean {
    const visited = new Set<string>();
    const visit = (id: string): boolean => {
      const fact = this.knowledge.facts[id];
      if (fact?.kind !== 'computed' || visited.has(id)) return false;
      visited.add(id);
      return fact.value.reads.some((read) => read === start || visit(read));
    };
    return visit(start);
  }

  private reads(id: string, path: Path, names: readonly string[]): void {
    const { facts, signs, symptoms } = this.knowledge;
    const known = [...Object.keys(facts), ...Object.keys(signs), ...Object.keys(symptoms)];
    for (const name of names) this.name(id, path, name, known, 'fact, sign or symptom');
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
        } else this.name(cause.id, path, link.sign, this.seen(), 'sign or symptom', 'key');
        for (const { when } of link.when) this.reads(cause.id, path, readsOf(when));
      }
      for (const factor of cause.factors) this.checkFactor(cause, factor);
      for (const other of Object.keys(cause.mistakenFor)) {
        const path = ['mistaken-for', other];
        if (!this.name(cause.id, path, other, Object.keys(causes), 'cause', 'key')) continue;
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

  private checkFactor(cause: Cause, factor: Factor): void {
    if (factor.kind === 'when') this.reads(cause.id, ['also-when'], readsOf(factor.when));
    else {
      this.reads(cause.id, ['likelier-when', factor.fact], [factor.fact]);
      if (factor.kind === 'limit') this.expression(cause.id, ['likelier-when', factor.fact], factor.limit);
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
      this.name(id, ['sources', index], source, Object.keys(this.knowledge.sources), 'source');
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
    const { causes, cautions, signs, symptoms } = this.knowledge;
    const mayWorsen = [...Object.keys(signs), ...Object.keys(symptoms), ...Object.keys(causes)];
    for (const fix of Object.values(this.knowledge.fixes)) {
      for (const cause of Object.keys(fix.removes))
        this.name(fix.id, ['removes', cause], cause, Object.keys(causes), 'cause', 'key');
      for (const worse of Object.keys(fix.worsens))
        this.name(fix.id, ['worsens', worse], worse, mayWorsen, 'sign, symptom or cause', 'key');
      fix.cautions.forEach((caution, index) => {
        this.name(fix.id, ['cautions', index], caution, Object.keys(cautions), 'caution');
      });
      if (Object.keys(fix.removes).length === 0)
        this.add(fix.id, 'no-fix', ['removes'], 'it removes no cause', 'Name at least one cause.');
      if (fix.when) this.reads(fix.id, ['when'], readsOf(fix.when));
      for (const [path, expression] of expressionsOf(fix)) this.expression(fix.id, path, expression);
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
      if (!removed.has(cause.id)) {
        this.add(
          cause.id,
          'no-fix',
          [],
          'no fix removes it',
          `Name \`${cause.id}\` under \`removes:\` of a fix, or add one.`,
        );
      }
    }
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
