import { evaluate, type Lookup } from '../knowledge/evaluate.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';

/** The fact that says which material; its answers are the materials. */
export const materialFact = 'material';

/**
 * The facts of one print, as far as they are known or supposed, with what can be computed from them. Numbers that may be
 * assumed stand at their middle until they are set.
 */
export class Situation implements Lookup {
  private readonly set = new Map<string, string | number>();
  private computed = new Map<string, number | undefined>();

  constructor(
    private readonly knowledge: KnowledgeBase,
    facts: Readonly<Record<string, string | number>> = {},
    private readonly observed: Readonly<Record<string, string>> = {},
  ) {
    for (const [fact, value] of Object.entries(facts)) this.set.set(fact, value);
  }

  put(fact: string, value: string | number | undefined): void {
    if (value === undefined) this.set.delete(fact);
    else this.set.set(fact, value);
    if (this.computed.size > 0) this.computed = new Map();
  }

  get(fact: string): string | number | undefined {
    return this.set.get(fact);
  }

  /** A number in the fact's unit. */
  value(id: string): number | undefined {
    const known = this.set.get(id);
    if (known !== undefined) return typeof known === 'number' ? known : undefined;
    const fact = this.knowledge.facts[id];
    if (fact === undefined) return undefined;
    if (fact.kind === 'number') return fact.assume ? this.spread(id)?.[1] : undefined;
    if (fact.kind !== 'computed') return undefined;
    if (this.computed.has(id)) return this.computed.get(id);
    const value = evaluate(fact.value, this);
    this.computed.set(id, value);
    return value;
  }

  /** The answer to a choice, the level of a sign, or yes/no for a symptom. */
  answer(id: string): string | undefined {
    const known = this.set.get(id);
    return typeof known === 'string' ? known : this.observed[id];
  }

  material(property: string, end: 'low' | 'high' | 'mid'): number | undefined {
    const material = this.answer(materialFact);
    return material === undefined
      ? undefined
      : this.knowledge.materials[material]?.properties[property]?.[end];
  }

  /** The three points of a number's spread in the material at hand. */
  spread(id: string): readonly [number, number, number] | undefined {
    const fact = this.knowledge.facts[id];
    if (fact?.kind !== 'number') return undefined;
    const material = this.answer(materialFact);
    return (material && fact.typicalFor[material]) || fact.typical;
  }
}
