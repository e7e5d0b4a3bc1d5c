import type { AnswerInput } from './answerInput.ts';
import type { Evidence, Network, Observation, Scenario } from './network.ts';
import { combine, weightOf } from './observation.ts';
import { addScaled } from './vectors.ts';
import { type Masses, type World, Worlds } from './world.ts';

/**
 * Weights of the evidence together with each answer. Any observation of a finding is a sum over its levels x of
 * weight[x] (J[x] - J[x - 1]), J[x] being the weight with "at most x", which needs no bit of the programme; the highest J
 * is the weight now. These differences are only weighed against the weight now, never divided by a small one, so the
 * digits they lose do not matter; what rounding leaves below 0 is 0.
 */
export class AnswerWeights {
  readonly now: Worlds;
  private readonly known = new Map<Network, World>();
  private readonly totals = new Map<number, number[]>();
  private readonly responsible = new Map<number, Float64Array[]>();
  private readonly others = new Map<AnswerInput, Worlds>();
  private readonly work: Float64Array;

  constructor(
    private readonly scenarios: readonly Scenario[],
    private readonly evidence: Evidence,
  ) {
    this.now = new Worlds(scenarios, evidence, this.known);
    this.work = new Float64Array(this.now.responsible.length);
  }

  /** False when no answer can change who is responsible: within a single network, no parent is linked to what was seen. */
  canMatter(answers: readonly AnswerInput[]): boolean {
    if (this.now.worlds.length > 1) return true;
    const [world] = this.now.worlds;
    return answers.some((answer) => {
      if (answer.kind === 'scenarios' || !world) return true;
      const findings = answer.kind === 'finding' ? [answer.finding] : [...answer.observed.keys()];
      // Several unobserved findings can tie to what was seen through each other.
      return findings.length > 1 || findings.some((finding) => world.bearsOn(finding));
    });
  }

  totalOf(answer: AnswerInput): number {
    if (!this.isLevelled(answer)) {
      const { total } = this.weigh(answer);
      return answer.kind === 'scenarios' ? answer.weight * total : total;
    }
    const totals = this.totalsOf(answer.finding);
    let total = 0;
    for (let level = 0; level < totals.length; level += 1) {
      total += weightOf(answer.observation, level) * (totals[level]! - (totals[level - 1] ?? 0));
    }
    return Math.max(0, total);
  }

  /** The result is overwritten by the next call. */
  massesOf(answer: AnswerInput): Masses {
    const responsible = this.work.fill(0);
    if (!this.isLevelled(answer)) {
      const weight = answer.kind === 'scenarios' ? answer.weight : 1;
      addScaled(responsible, this.weigh(answer).responsible, weight);
      return { total: this.totalOf(answer), responsible };
    }
    const atMost = this.responsibleOf(answer.finding);
    for (let level = 0; level < atMost.length; level += 1) {
      // Sum by parts: J[x] enters with weight[x] - weight[x + 1].
      const next = level + 1 < atMost.length ? weightOf(answer.observation, level + 1) : 0;
      const factor = weightOf(answer.observation, level) - next;
      if (factor !== 0) addScaled(responsible, atMost[level]!, factor);
    }
    for (let cause = 0; cause < responsible.length; cause += 1) {
      if (responsible[cause]! < 0) responsible[cause] = 0;
    }
    return { total: this.totalOf(answer), responsible };
  }

  /** A finding seen before cannot be split by levels once more; there the two reports are combined. */
  private isLevelled(answer: AnswerInput): answer is Extract<AnswerInput, { kind: 'finding' }> {
    return answer.kind === 'finding' && !this.evidence.observed.has(answer.finding);
  }

  private weigh(answer: AnswerInput): Worlds {
    const found = this.others.get(answer);
    if (found) return found;
    const { reference } = this.now;
    const weighed =
      answer.kind === 'scenarios'
        ? new Worlds(answer.scenarios, this.evidence, this.known, reference)
        : new Worlds(this.scenarios, this.withObserved(answer), new Map(), reference);
    this.others.set(answer, weighed);
    return weighed;
  }

  private withObserved(answer: Exclude<AnswerInput, { kind: 'scenarios' }>): Evidence {
    const added: Iterable<[number, Observation]> =
      answer.kind === 'finding' ? [[answer.finding, answer.observation]] : answer.observed;
    const observed = new Map(this.evidence.observed);
    for (const [finding, observation] of added) {
      const seen = observed.get(finding);
      observed.set(
        finding,
        seen === undefined ? observation : combine(this.levelsOf(finding), seen, observation),
      );
    }
    return { ...this.evidence, observed };
  }

  /** J[x] for every level, the weight now being the last. */
  private totalsOf(finding: number): number[] {
    let totals = this.totals.get(finding);
    if (!totals) {
      totals = this.levelsBelowTop(finding).map((level) => this.now.totalAtMost(finding, level));
      totals.push(this.now.total);
      this.totals.set(finding, totals);
    }
    return totals;
  }

  private responsibleOf(finding: number): Float64Array[] {
    let responsible = this.responsible.get(finding);
    if (!responsible) {
      responsible = this.levelsBelowTop(finding).map((level) => this.now.responsibleAtMost(finding, level));
      responsible.push(this.now.responsible);
      this.responsible.set(finding, responsible);
    }
    return responsible;
  }

  private levelsBelowTop(finding: number): number[] {
    return Array.from({ length: this.levelsOf(finding) - 1 }, (_, level) => level);
  }

  private levelsOf(finding: number): number {
    return this.scenarios[0]!.network.findings[finding]!.levels;
  }
}
