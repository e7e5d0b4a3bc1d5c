import type { Evidence, Finding, Network, Observation, Scenario } from '../../src/inference/network.ts';

/** A finding that is there or not, from a leak and the chances that each cause brings it about (0 for no link). */
export function finding(leak: number, links: readonly number[]): Finding {
  return graded(
    [1 - leak, 1],
    links.map((link) => (link > 0 ? [1 - link, 1] : undefined)),
  );
}

/** A graded finding from cumulative rows: the leak's, and one for each cause or undefined for no link. */
export function graded(leak: readonly number[], rows: readonly (readonly number[] | undefined)[]): Finding {
  const parents = rows.flatMap((row, cause) => (row ? [cause] : []));
  return {
    levels: leak.length,
    leak: Float64Array.from(leak),
    parents: Int32Array.from(parents),
    atMost: Float64Array.from(parents.flatMap((cause) => [...rows[cause]!])),
  };
}

export function network(prior: readonly number[], findings: readonly Finding[]): Network {
  return { prior: Float64Array.from(prior), findings };
}

/** A two-level network from a table of links [cause][finding]. */
export function noisyOr(
  prior: readonly number[],
  leak: readonly number[],
  link: readonly (readonly number[])[],
): Network {
  return network(
    prior,
    leak.map((chance, index) =>
      finding(
        chance,
        link.map((row) => row[index]!),
      ),
    ),
  );
}

export function only(value: Network): Scenario[] {
  return [{ weight: 1, network: value }];
}

export function seen(observed: Record<number, Observation>, rest: Omit<Evidence, 'observed'> = {}): Evidence {
  return { observed: new Map(Object.entries(observed).map(([key, value]) => [Number(key), value])), ...rest };
}
