import { countBits, type Digit, runChances } from './digit.ts';

/**
 * The programme without subtraction for leaky noisy-OR and noisy-MAX: which of the observed findings are explained so
 * far is a bit mask; the leak and every cause add bits. Every term is non-negative, so improbable evidence costs no
 * digits. It specialises the combination of independent contributions of Zhang and Poole (1996).
 *
 * Causes that touch the same bits are one group: they are combined among themselves on their few bits first, so that
 * the long array of states is walked once for a group and not once for a cause.
 */
export interface Programme {
  /** 2 ^ bits. */
  readonly states: number;
  /** Chance of each mask from the leaks alone. */
  readonly start: Float64Array;
  /** Weight the evidence gives to each mask once all contributions are in. */
  readonly finish: Float64Array;
  readonly groups: readonly Group[];
  /** For each member, the chance of each pattern on the bits of its group when present. */
  readonly tables: Float64Array;
  /** Where the table of a cause begins; -1 for causes outside. */
  readonly tableAt: Int32Array;
  readonly tableSize: Int32Array;
}

export interface Group {
  /** The mask each pattern of the group stands for; its length is 2 ^ (bits of the group). */
  readonly spread: Int32Array;
  /** Causes, rising. */
  readonly members: Int32Array;
}

/** `also` names causes to take in although they touch no digit. */
export function compileProgramme(digits: readonly Digit[], causes: number, also?: Uint8Array): Programme {
  const masks = new Int32Array(causes);
  const links = findLinks(digits, masks);
  const groups = groupByMask(masks, also);
  const tableAt = new Int32Array(causes).fill(-1);
  const tableSize = new Int32Array(causes);
  let length = 0;
  for (const { spread, members } of groups) {
    for (const cause of members) {
      tableAt[cause] = length;
      tableSize[cause] = spread.length;
      length += spread.length;
    }
  }
  const tables = new Float64Array(length);
  fillTables(links, tables, tableAt);
  const states = 1 << countBits(digits);
  return {
    states,
    start: leakStart(digits, states),
    finish: finishWeights(digits, states),
    groups,
    tables,
    tableAt,
    tableSize,
  };
}

interface Link {
  readonly cause: number;
  readonly chances: Float64Array;
}

function findLinks(digits: readonly Digit[], masks: Int32Array): Link[] {
  const links: Link[] = [];
  let shift = 0;
  for (const digit of digits) {
    const runs = digit.runs.ends.length;
    const { parents, atMost } = digit.finding;
    const bits = ((1 << (runs - 1)) - 1) << shift;
    for (let row = 0; row < parents.length; row += 1) {
      const chances = new Float64Array(runs);
      runChances(digit, atMost, row, chances);
      if (chances[0] === 1) continue;
      const cause = parents[row]!;
      masks[cause] = masks[cause]! | bits;
      links.push({ cause, chances });
    }
    shift += runs - 1;
  }
  return links;
}

function groupByMask(masks: Int32Array, also: Uint8Array | undefined): Group[] {
  const byMask = new Map<number, number[]>();
  for (let cause = 0; cause < masks.length; cause += 1) {
    const mask = masks[cause]!;
    if (mask === 0 && !also?.[cause]) continue;
    const members = byMask.get(mask);
    if (members) members.push(cause);
    else byMask.set(mask, [cause]);
  }
  return [...byMask]
    .sort(([a], [b]) => a - b)
    .map(([mask, members]) => ({ spread: spreadOf(mask), members: Int32Array.from(members) }));
}

function spreadOf(mask: number): Int32Array {
  let spread = [0];
  for (let bit = 1; bit <= mask; bit <<= 1) {
    if (mask & bit) spread = spread.concat(spread.map((pattern) => pattern | bit));
  }
  return Int32Array.from(spread);
}

function fillTables(links: readonly Link[], tables: Float64Array, tableAt: Int32Array): void {
  const filled = new Int32Array(tableAt.length).fill(1);
  for (const at of tableAt) if (at >= 0) tables[at] = 1;
  for (const { cause, chances } of links) {
    filled[cause] = appendDigit(tables, tableAt[cause]!, filled[cause]!, chances);
  }
}

/** Multiplies a table by the run chances of one more digit, whose bits come above those already there. */
function appendDigit(table: Float64Array, at: number, filled: number, chances: Float64Array): number {
  for (let run = chances.length - 1; run >= 0; run -= 1) {
    const block = at + ((1 << run) - 1) * filled;
    for (let index = 0; index < filled; index += 1) table[block + index] = table[at + index]! * chances[run]!;
  }
  return filled << (chances.length - 1);
}

function leakStart(digits: readonly Digit[], states: number): Float64Array {
  const start = new Float64Array(states);
  start[0] = 1;
  let filled = 1;
  for (const digit of digits) {
    const chances = new Float64Array(digit.runs.ends.length);
    runChances(digit, digit.finding.leak, 0, chances);
    filled = appendDigit(start, 0, filled, chances);
  }
  return start;
}

function finishWeights(digits: readonly Digit[], states: number): Float64Array {
  const finish = new Float64Array(states);
  finish[0] = 1;
  let filled = 1;
  for (const digit of digits) {
    filled = appendDigit(finish, 0, filled, Float64Array.from(digit.runs.weights));
  }
  return finish;
}
