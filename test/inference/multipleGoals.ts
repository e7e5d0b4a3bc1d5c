import type { Evidence, Finding, Network } from '../../src/inference/network.ts';
import { infer } from '../../src/inference/posterior.ts';
import { only } from './build.ts';

/**
 * Chance that removing all of `removed` clears every positive two-level finding. The engine knows one goal at a time; for
 * all of them the others and the leaks must bring about no finding, and the removed ones, by themselves, all positives.
 */
export function chanceAllClear(network: Network, evidence: Evidence, removed: readonly number[]): number {
  const without = new Set(removed);
  const others = restrict(network, (cause) => !without.has(cause));
  const inside = restrict(network, (cause) => without.has(cause));
  const silent = { ...inside, findings: inside.findings.map(withoutLeak) };
  const nothingSeen = new Map([...evidence.observed.keys()].map((index) => [index, 0]));
  const log =
    infer(only(others), { observed: nothingSeen }).logEvidence +
    infer(only(silent), { observed: evidence.observed }).logEvidence -
    infer(only(network), { observed: evidence.observed }).logEvidence;
  return Math.exp(log);
}

export function restrict(network: Network, keep: (cause: number) => boolean): Network {
  return { ...network, prior: network.prior.map((chance, cause) => (keep(cause) ? chance : 0)) };
}

function withoutLeak(finding: Finding): Finding {
  return { ...finding, leak: finding.leak.map(() => 1) };
}
