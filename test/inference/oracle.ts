import type { Evidence, Finding, Network, Scenario } from '../../src/inference/network.ts';

/**
 * Beliefs by writing out every possible world: which causes are present and, for the goal, the level each contributor
 * brings about, whether an attempted fix left it in place, and whether the removal takes it away. Slow, and shares no
 * formula with the engine.
 */
export interface Enumerated {
  evidence: number;
  posterior: number[];
  responsible: number[];
  /** Chance that the goal is at level 0 after the removal. */
  cleared: number;
  scenarios: number[];
}

export function enumerate(
  scenarios: readonly Scenario[],
  evidence: Evidence,
  removal?: Float64Array,
): Enumerated {
  const causes = scenarios[0]!.network.prior.length;
  const sums: Enumerated = {
    evidence: 0,
    posterior: new Array(causes).fill(0),
    responsible: new Array(causes).fill(0),
    cleared: 0,
    scenarios: scenarios.map(() => 0),
  };
  scenarios.forEach(({ weight, network }, index) => {
    const before = sums.evidence;
    for (let present = 0; present < 1 << causes; present += 1) {
      addState(network, evidence, removal, present, weight, sums);
    }
    sums.scenarios[index] = sums.evidence - before;
  });
  const share = (mass: number) => mass / sums.evidence;
  return {
    evidence: sums.evidence,
    posterior: sums.posterior.map(share),
    responsible: sums.responsible.map(share),
    cleared: share(sums.cleared),
    scenarios: sums.scenarios.map(share),
  };
}

function addState(
  network: Network,
  evidence: Evidence,
  removal: Float64Array | undefined,
  present: number,
  weight: number,
  sums: Enumerated,
): void {
  let chance = weight;
  network.prior.forEach((prior, cause) => {
    chance *= present & (1 << cause) ? prior : 1 - prior;
  });
  for (const [index, observation] of evidence.observed) {
    if (index === evidence.goal) continue;
    const levels = levelChances(network.findings[index]!, present);
    chance *=
      typeof observation === 'number'
        ? levels[observation]!
        : levels.reduce((sum, level, at) => sum + level * observation[at]!, 0);
  }
  const goal = evidence.goal === undefined ? undefined : evidence.observed.get(evidence.goal);
  if (goal === undefined) {
    addMass(sums, present, chance);
    return;
  }
  const likelihood = (level: number) =>
    typeof goal === 'number' ? Number(level === goal) : (goal[level] as number);
  const finding = network.findings[evidence.goal!]!;
  for (const world of goalWorlds(finding, present, evidence, removal)) {
    const level = Math.max(0, ...world.contributions.map((contribution) => contribution.level));
    const mass = chance * world.chance * likelihood(level);
    if (mass === 0) continue;
    addMass(sums, present, mass);
    const raised = world.contributions.filter((contribution) => contribution.level > 0);
    if (raised.length === 1 && raised[0]!.cause >= 0) {
      const { cause } = raised[0]!;
      sums.responsible[cause] = sums.responsible[cause]! + mass;
    }
    if (raised.every((contribution) => contribution.removed)) sums.cleared += mass;
  }
}

function addMass(sums: Enumerated, present: number, mass: number): void {
  sums.evidence += mass;
  sums.posterior.forEach((sum, cause) => {
    if (present & (1 << cause)) sums.posterior[cause] = sum + mass;
  });
}

/** Chance of each level, as the maximum of independent contributions, pair by pair. */
export function levelChances(finding: Finding, present: number): number[] {
  let levels = exactly(finding.leak, 0, finding.levels);
  finding.parents.forEach((cause, row) => {
    if (!(present & (1 << cause))) return;
    const own = exactly(finding.atMost, row, finding.levels);
    const next = new Array<number>(finding.levels).fill(0);
    levels.forEach((a, x) => {
      own.forEach((b, y) => {
        const level = Math.max(x, y);
        next[level] = next[level]! + a * b;
      });
    });
    levels = next;
  });
  return levels;
}

function exactly(cumulative: Float64Array, row: number, levels: number): number[] {
  return Array.from({ length: levels }, (_, level) => {
    const at = row * levels + level;
    return cumulative[at]! - (level > 0 ? cumulative[at - 1]! : 0);
  });
}

interface Contribution {
  cause: number;
  level: number;
  removed: boolean;
}

interface GoalWorld {
  chance: number;
  contributions: Contribution[];
}

function goalWorlds(
  finding: Finding,
  present: number,
  { tried }: Evidence,
  removal: Float64Array | undefined,
): GoalWorld[] {
  const parents = [...finding.parents].flatMap((cause, row) =>
    present & (1 << cause) ? [{ cause, row }] : [],
  );
  let worlds = outcomes(-1, exactly(finding.leak, 0, finding.levels), tried?.leak ?? 1, 0).map(
    ({ chance, contribution }): GoalWorld => ({ chance, contributions: [contribution] }),
  );
  for (const { cause, row } of parents) {
    const own = outcomes(
      cause,
      exactly(finding.atMost, row, finding.levels),
      tried?.causes[cause] ?? 1,
      removal?.[cause] ?? 0,
    );
    worlds = worlds.flatMap((world) =>
      own.map(({ chance, contribution }) => ({
        chance: world.chance * chance,
        contributions: [...world.contributions, contribution],
      })),
    );
  }
  return worlds;
}

function outcomes(cause: number, levels: readonly number[], left: number, removed: number) {
  const found: { chance: number; contribution: Contribution }[] = [];
  levels.forEach((chance, level) => {
    if (level === 0) {
      found.push({ chance, contribution: { cause, level: 0, removed: false } });
      return;
    }
    found.push({ chance: chance * (1 - left), contribution: { cause, level: 0, removed: false } });
    found.push({ chance: chance * left * removed, contribution: { cause, level, removed: true } });
    found.push({ chance: chance * left * (1 - removed), contribution: { cause, level, removed: false } });
  });
  return found.filter(({ chance }) => chance > 0);
}
