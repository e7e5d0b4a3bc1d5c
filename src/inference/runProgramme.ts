import type { Group, Programme } from './programme.ts';

/** Work arrays shared by all runs; a run never outlives its call, so they are safe to share. */
let forward = new Float64Array(0);
let backward = new Float64Array(0);
let groupTables = new Float64Array(0);
let prefixes = new Float64Array(0);
let context = new Float64Array(0);
let contribution = new Float64Array(0);

/**
 * Weight of the evidence. Every cause contributes nothing with weight `stay` and the patterns of its table with weight
 * `fire`; both are indexed by cause.
 */
export function totalOf(programme: Programme, stay: Float64Array, fire: Float64Array): number {
  const { states, start, finish, groups } = programme;
  reserveStates(states, 1);
  forward.set(start);
  for (const group of groups) {
    reserveGroup(group);
    fold(programme, group, stay, fire, groupTables, 0);
    advanceInPlace(group.spread, groupTables, 0, states);
  }
  let total = 0;
  for (let state = 0; state < states; state += 1) total += forward[state]! * finish[state]!;
  return total;
}

/**
 * The same weight, and for every member the weight of the evidence when its own part (stay or fire) is replaced by
 * `mark` times its table; with mark = fire this is the joint weight of the cause being present.
 */
export function marginalsOf(
  programme: Programme,
  stay: Float64Array,
  fire: Float64Array,
  mark: Float64Array,
  into: Float64Array,
): number {
  const { states, start, finish, groups } = programme;
  reserveStates(states, groups.length + 1);
  forward.set(start);
  let tableLength = 0;
  for (const group of groups) tableLength += group.spread.length;
  if (groupTables.length < tableLength) groupTables = new Float64Array(2 * tableLength);
  let tableAt = 0;
  for (let index = 0; index < groups.length; index += 1) {
    const group = groups[index]!;
    reserveGroup(group);
    fold(programme, group, stay, fire, groupTables, tableAt);
    advance(group.spread, groupTables, tableAt, index * states, states);
    tableAt += group.spread.length;
  }
  backward.set(finish);
  for (let index = groups.length - 1; index >= 0; index -= 1) {
    const group = groups[index]!;
    tableAt -= group.spread.length;
    if (isMarked(group, mark)) {
      surround(group.spread, index * states, states);
      readMembers(programme, group, stay, fire, mark, into);
    } else {
      for (const cause of group.members) into[cause] = 0;
    }
    retreat(group.spread, groupTables, tableAt, states);
  }
  let total = 0;
  for (let state = 0; state < states; state += 1) total += start[state]! * backward[state]!;
  return total;
}

function isMarked({ members }: Group, mark: Float64Array): boolean {
  for (let index = 0; index < members.length; index += 1) if (mark[members[index]!]! > 0) return true;
  return false;
}

function reserveStates(states: number, copies: number): void {
  if (forward.length < states * copies) forward = new Float64Array(2 * states * copies);
  if (backward.length < states) backward = new Float64Array(states);
}

function reserveGroup({ spread, members }: Group): void {
  const size = spread.length;
  if (groupTables.length < size) groupTables = new Float64Array(2 * size);
  if (prefixes.length < (members.length + 1) * size) {
    prefixes = new Float64Array(2 * (members.length + 1) * size);
  }
  if (context.length < size) {
    context = new Float64Array(size);
    contribution = new Float64Array(size);
  }
}

/** Patterns of the whole group from those of its members. */
function fold(
  programme: Programme,
  { spread, members }: Group,
  stay: Float64Array,
  fire: Float64Array,
  into: Float64Array,
  at: number,
): void {
  const size = spread.length;
  into.fill(0, at, at + size);
  into[at] = 1;
  for (let index = 0; index < members.length; index += 1) {
    const cause = members[index]!;
    foldOne(programme.tables, programme.tableAt[cause]!, stay[cause]!, fire[cause]!, size, into, at);
  }
}

/** Combines one member into `into`, in place: from the highest pattern down, as no pattern depends on a higher one. */
function foldOne(
  tables: Float64Array,
  table: number,
  stay: number,
  fire: number,
  size: number,
  into: Float64Array,
  at: number,
): void {
  const nothing = stay + fire * tables[table]!;
  if (size === 1) {
    into[at] = into[at]! * nothing;
    return;
  }
  if (size === 2) {
    const one = fire * tables[table + 1]!;
    into[at + 1] = into[at + 1]! * (nothing + one) + into[at]! * one;
    into[at] = into[at]! * nothing;
    return;
  }
  for (let before = size - 1; before >= 0; before -= 1) {
    const weight = into[at + before]!;
    if (weight === 0) continue;
    into[at + before] = weight * nothing;
    const scaled = weight * fire;
    for (let pattern = 1; pattern < size; pattern += 1) {
      const target = at + (before | pattern);
      into[target] = into[target]! + scaled * tables[table + pattern]!;
    }
  }
}

/** forward[to] = forward[from] with the group's patterns OR-ed in; the two stretches are neighbours. */
function advance(
  spread: Int32Array,
  tables: Float64Array,
  table: number,
  from: number,
  states: number,
): void {
  const to = from + states;
  const nothing = tables[table]!;
  for (let state = 0; state < states; state += 1) forward[to + state] = forward[from + state]! * nothing;
  for (let pattern = 1; pattern < spread.length; pattern += 1) {
    const weight = tables[table + pattern]!;
    if (weight === 0) continue;
    const bits = spread[pattern]!;
    for (let state = 0; state < states; state += 1) {
      const target = to + (state | bits);
      forward[target] = forward[target]! + weight * forward[from + state]!;
    }
  }
}

/** The same in place: masks only gain bits, so going down none is read after it has been written. */
function advanceInPlace(spread: Int32Array, tables: Float64Array, table: number, states: number): void {
  const nothing = tables[table]!;
  const size = spread.length;
  for (let state = states - 1; state >= 0; state -= 1) {
    const before = forward[state]!;
    if (before === 0) continue;
    forward[state] = before * nothing;
    for (let pattern = 1; pattern < size; pattern += 1) {
      const target = state | spread[pattern]!;
      forward[target] = forward[target]! + before * tables[table + pattern]!;
    }
  }
}

/** backward[s] = sum over patterns of the group's weight times backward[s | pattern]. */
function retreat(spread: Int32Array, tables: Float64Array, table: number, states: number): void {
  const nothing = tables[table]!;
  const size = spread.length;
  // A mask reads only itself and masks above it; going up, those still hold the old values.
  for (let state = 0; state < states; state += 1) {
    let sum = nothing * backward[state]!;
    for (let pattern = 1; pattern < size; pattern += 1) {
      sum += tables[table + pattern]! * backward[state | spread[pattern]!]!;
    }
    backward[state] = sum;
  }
}

/** context[t] = weight of everything outside the group when the group contributes pattern t. */
function surround(spread: Int32Array, from: number, states: number): void {
  for (let pattern = 0; pattern < spread.length; pattern += 1) {
    const bits = spread[pattern]!;
    let sum = 0;
    for (let state = 0; state < states; state += 1) sum += forward[from + state]! * backward[state | bits]!;
    context[pattern] = sum;
  }
}

function readMembers(
  programme: Programme,
  { spread, members }: Group,
  stay: Float64Array,
  fire: Float64Array,
  mark: Float64Array,
  into: Float64Array,
): void {
  const { tables, tableAt } = programme;
  const size = spread.length;
  prefixes.fill(0, 0, size);
  prefixes[0] = 1;
  for (let index = 0; index + 1 < members.length; index += 1) {
    const at = index * size;
    prefixes.copyWithin(at + size, at, at + size);
    const cause = members[index]!;
    foldOne(tables, tableAt[cause]!, stay[cause]!, fire[cause]!, size, prefixes, at + size);
  }
  for (let index = members.length - 1; index >= 0; index -= 1) {
    const cause = members[index]!;
    const table = tableAt[cause]!;
    let joint = 0;
    for (let before = 0; before < size; before += 1) {
      let sum = 0;
      for (let pattern = 0; pattern < size; pattern += 1) {
        sum += tables[table + pattern]! * context[before | pattern]!;
      }
      contribution[before] = sum;
      joint += prefixes[index * size + before]! * sum;
    }
    into[cause] = mark[cause]! * joint;
    for (let before = 0; before < size; before += 1) {
      context[before] = stay[cause]! * context[before]! + fire[cause]! * contribution[before]!;
    }
  }
}
