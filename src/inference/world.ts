import type { Evidence, Network, Scenario } from './network.ts';
import { weighResponsible } from './posterior.ts';
import { type Prepared, prepare } from './prepare.ts';
import { marginalsOf, totalOf } from './runProgramme.ts';
import { addScaled } from './vectors.ts';

/** Weight of a body of evidence, and of "evidence, and this cause alone is responsible" for each cause. */
export interface Masses {
  readonly total: number;
  readonly responsible: Float64Array;
}

/**
 * One network under the present evidence, asked over and over what one more finding would say. All its weights are to
 * be multiplied by exp(prepared.logScale).
 */
export class World implements Masses {
  readonly total: number;
  readonly responsible: Float64Array;
  readonly prepared: Prepared;

  constructor(
    readonly network: Network,
    evidence: Evidence,
  ) {
    this.prepared = prepare(network, evidence);
    const { logScale, programme, stay, fire } = this.prepared;
    this.responsible = new Float64Array(fire.length);
    this.total = logScale === -Infinity ? 0 : totalOf(programme, stay, fire);
    if (this.total > 0) weighResponsible(this.prepared, this.responsible);
  }

  /** Whether the finding has a parent that the observed findings bear on; else it can say nothing within this network. */
  bearsOn(finding: number): boolean {
    const { tableAt } = this.prepared.programme;
    return this.network.findings[finding]!.parents.some((cause) => tableAt[cause]! >= 0);
  }

  totalAtMost(finding: number, level: number): number {
    if (!this.bearsOn(finding)) return this.total * this.looseFactor(finding, level);
    const { programme, stay, fire } = this.prepared;
    return this.withAtMost(finding, level, (factor) => factor * totalOf(programme, stay, fire));
  }

  /** Adds `share` times the weights of the responsible causes, the finding being at most at `level`. */
  addResponsibleAtMost(finding: number, level: number, share: number, into: Float64Array): void {
    const { goal, stay } = this.prepared;
    if (!goal) return;
    if (!this.bearsOn(finding)) {
      addScaled(into, this.responsible, share * this.looseFactor(finding, level));
      return;
    }
    if (scratch.length !== into.length) scratch = new Float64Array(into.length);
    scratch.fill(0);
    this.withAtMost(finding, level, (factor) => {
      marginalsOf(goal.programme, stay, goal.calmFire, goal.hitFire, scratch);
      addScaled(into, scratch, share * factor * goal.leakCalm);
    });
  }

  /** Chance of "at most level" from the leak and from the causes that no programme holds. */
  private looseFactor(index: number, level: number): number {
    const { programme, stay, fire } = this.prepared;
    const { parents, atMost, levels, leak } = this.network.findings[index]!;
    let factor = leak[level]!;
    for (let row = 0; row < parents.length; row += 1) {
      const cause = parents[row]!;
      if (programme.tableAt[cause]! >= 0) continue;
      factor *= stay[cause]! + fire[cause]! * atMost[row * levels + level]!;
    }
    return factor;
  }

  /** Runs with "at most level" absorbed into the chances of the parents, and puts them back afterwards. */
  private withAtMost<Result>(index: number, level: number, run: (factor: number) => Result): Result {
    const { fire, goal } = this.prepared;
    const { parents, atMost, levels } = this.network.findings[index]!;
    const factor = this.looseFactor(index, level);
    if (saved.length < 3 * parents.length) saved = new Float64Array(6 * parents.length);
    for (let row = 0; row < parents.length; row += 1) {
      const cause = parents[row]!;
      const chance = atMost[row * levels + level]!;
      saved[3 * row] = fire[cause]!;
      fire[cause] = fire[cause]! * chance;
      if (!goal) continue;
      saved[3 * row + 1] = goal.calmFire[cause]!;
      saved[3 * row + 2] = goal.hitFire[cause]!;
      goal.calmFire[cause] = goal.calmFire[cause]! * chance;
      goal.hitFire[cause] = goal.hitFire[cause]! * chance;
    }
    const result = run(factor);
    for (let row = 0; row < parents.length; row += 1) {
      const cause = parents[row]!;
      fire[cause] = saved[3 * row]!;
      if (!goal) continue;
      goal.calmFire[cause] = saved[3 * row + 1]!;
      goal.hitFire[cause] = saved[3 * row + 2]!;
    }
    return result;
  }
}

/** Work arrays; no use of them outlives the call that makes it. */
let scratch = new Float64Array(0);
let saved = new Float64Array(0);

/** Several worlds mixed by their weights, on a common scale: weights are divided by exp(reference). */
export class Worlds implements Masses {
  readonly worlds: readonly World[];
  readonly shares: readonly number[];
  readonly total: number;
  readonly responsible: Float64Array;
  /** Logarithm of the scale; finite. */
  readonly reference: number;

  /** `known` keeps the worlds of networks met before under the same evidence; new ones are added. */
  constructor(
    scenarios: readonly Scenario[],
    evidence: Evidence,
    known: Map<Network, World> = new Map(),
    reference?: number,
  ) {
    this.worlds = scenarios.map(({ network }) => worldOf(network, evidence, known));
    const logs = this.worlds.map((world, index) =>
      world.total > 0 ? Math.log(scenarios[index]!.weight) + world.prepared.logScale : -Infinity,
    );
    const largest = Math.max(...logs);
    this.reference = reference ?? (largest > -Infinity ? largest : 0);
    this.shares = logs.map((log) => (log > -Infinity ? Math.exp(log - this.reference) : 0));
    this.responsible = new Float64Array(scenarios[0]?.network.prior.length ?? 0);
    let total = 0;
    this.worlds.forEach((world, index) => {
      total += this.shares[index]! * world.total;
      if (this.shares[index]! > 0) addScaled(this.responsible, world.responsible, this.shares[index]!);
    });
    this.total = total;
  }

  totalAtMost(finding: number, level: number): number {
    let total = 0;
    this.worlds.forEach((world, index) => {
      if (this.shares[index]! > 0) total += this.shares[index]! * world.totalAtMost(finding, level);
    });
    return total;
  }

  responsibleAtMost(finding: number, level: number): Float64Array {
    const responsible = new Float64Array(this.responsible.length);
    this.worlds.forEach((world, index) => {
      const share = this.shares[index]!;
      if (share > 0) world.addResponsibleAtMost(finding, level, share, responsible);
    });
    return responsible;
  }
}

function worldOf(network: Network, evidence: Evidence, known: Map<Network, World>): World {
  let world = known.get(network);
  if (!world) {
    world = new World(network, evidence);
    known.set(network, world);
  }
  return world;
}
