import type { Beliefs, Evidence, Scenario } from './network.ts';
import { type Prepared, prepare } from './prepare.ts';
import { marginalsOf } from './runProgramme.ts';
import { addScaled } from './vectors.ts';

/**
 * Exact beliefs under a leaky noisy-OR / noisy-MAX network (Henrion 1989; Diez 1993), by the programme without
 * subtraction. Scenarios are mixed with weight times chance of the evidence. Evidence that cannot happen leaves the
 * beliefs as they were before any finding, with `logEvidence` -Infinity.
 */
export function infer(scenarios: readonly Scenario[], evidence: Evidence): Beliefs {
  const results = scenarios.map(({ network }) => inferOne(prepare(network, evidence)));
  const logs = results.map((result, index) => Math.log(scenarios[index]!.weight) + result.logEvidence);
  const { logTotal, shares } = mix(logs);
  const approximated = results.some((result) => result.approximated);
  if (logTotal === -Infinity) return { ...beforeEvidence(scenarios), approximated };
  const causes = scenarios[0]!.network.prior.length;
  const posterior = new Float64Array(causes);
  const responsible = new Float64Array(causes);
  for (let index = 0; index < results.length; index += 1) {
    const share = shares[index]!;
    if (share === 0) continue;
    addScaled(posterior, results[index]!.posterior, share);
    addScaled(responsible, results[index]!.responsible, share);
  }
  return {
    logEvidence: logTotal,
    posterior,
    responsible,
    other: restOf(responsible),
    scenarios: shares,
    approximated,
  };
}

interface OneNetwork {
  readonly logEvidence: number;
  readonly posterior: Float64Array;
  readonly responsible: Float64Array;
  readonly approximated: boolean;
}

function inferOne(prepared: Prepared): OneNetwork {
  const { programme, stay, fire, logScale, approximated } = prepared;
  const posterior = fire.slice();
  const responsible = new Float64Array(fire.length);
  if (logScale === -Infinity) return { logEvidence: -Infinity, posterior, responsible, approximated };
  const total = marginalsOf(programme, stay, fire, fire, posterior);
  if (!(total > 0)) return { logEvidence: -Infinity, posterior, responsible, approximated };
  for (const { members } of programme.groups) {
    // Rounding may carry a certain cause a hair above 1.
    for (const cause of members) posterior[cause] = Math.min(1, posterior[cause]! / total);
  }
  weighResponsible(prepared, responsible);
  for (let cause = 0; cause < responsible.length; cause += 1)
    responsible[cause] = responsible[cause]! / total;
  return { logEvidence: logScale + Math.log(total), posterior, responsible, approximated };
}

/**
 * Writes, for each cause, the weight of "this cause alone is responsible": it brings about the goal, and no
 * other cause and no leak does. Same scale as the total of the programme.
 */
export function weighResponsible({ goal, stay }: Prepared, into: Float64Array): void {
  into.fill(0);
  if (!goal) return;
  marginalsOf(goal.programme, stay, goal.calmFire, goal.hitFire, into);
  for (let cause = 0; cause < into.length; cause += 1) into[cause] = into[cause]! * goal.leakCalm;
}

/** Normalised shares from logarithms of weights, and the logarithm of their sum. */
function mix(logs: readonly number[]): { logTotal: number; shares: Float64Array } {
  const largest = Math.max(...logs);
  const shares = Float64Array.from(logs, (log) => (log === -Infinity ? 0 : Math.exp(log - largest)));
  const sum = shares.reduce((total, share) => total + share, 0);
  return {
    logTotal: sum > 0 ? largest + Math.log(sum) : -Infinity,
    shares: shares.map((share) => share / sum),
  };
}

function beforeEvidence(scenarios: readonly Scenario[]): Omit<Beliefs, 'approximated'> {
  const causes = scenarios[0]?.network.prior.length ?? 0;
  const posterior = new Float64Array(causes);
  for (const { weight, network } of scenarios) addScaled(posterior, network.prior, weight);
  return {
    logEvidence: -Infinity,
    posterior,
    responsible: new Float64Array(causes),
    other: 1,
    scenarios: Float64Array.from(scenarios, ({ weight }) => weight),
  };
}

function restOf(responsible: Float64Array): number {
  let sum = 0;
  for (const chance of responsible) sum += chance;
  return Math.max(0, 1 - sum);
}
