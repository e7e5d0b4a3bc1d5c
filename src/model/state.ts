import type { Evidence, Finding, Observation, Remainder, Scenario } from '../inference/network.ts';
import { holds, readsOf } from '../knowledge/evaluate.ts';
import type { Condition, Link } from '../knowledge/knowledgeBase.ts';
import type { Case, Outcome } from './case.ts';
import { type CauseTable, causeTable } from './causeTable.ts';
import type { Grid } from './grid.ts';
import { isWeighed } from './grid.ts';
import type { Model, Observable } from './model.ts';
import { factsBehind } from './reads.ts';
import { materialFact, Situation } from './situation.ts';
import { average, inOrder, overSupposed, type Supposed, type Table, tabulate, valueAt } from './table.ts';

/** A case arranged for computing: what its facts make of the causes, and what has been observed. */
export interface State {
  readonly model: Model;
  readonly case: Case;
  readonly situation: Situation;
  readonly evidence: Evidence;
  /** For each cause, whether it can bring about something that was observed. */
  readonly relevant: readonly boolean[];
  readonly tables: readonly (CauseTable | undefined)[];
  /** Factors on the odds of the causes from the wording of the description; left out where there is none. */
  readonly tilt?: Float64Array;
  /** Unknown facts that are weighed jointly. */
  readonly mixed: readonly Grid[];
  /** Unknown facts whose alternatives had to be averaged instead. */
  readonly approximated: readonly string[];
}

const nothingSupposed: Supposed = new Map();

/** Chances are kept off 0 and 1, so that no single report can make the truth impossible. */
const margin = 1e-4;

function inside(chance: number): number {
  return Math.min(1 - margin, Math.max(margin, chance));
}

/**
 * @param jointValues how many joint values of the unknown facts may be weighed: few while asking, more for a result
 */
export function buildState(model: Model, known: Case, jointValues: number): State {
  const observedAnswers = answersOf(known);
  const situation = new Situation(model.knowledge, known.facts, observedAnswers);
  const evidence = gatherEvidence(model, known);
  const relevant = new Array<boolean>(model.causes.length).fill(false);
  for (const [finding, observation] of evidence.observed) {
    if (observation === 0) continue;
    for (const { cause } of model.observables[finding]!.parents) relevant[cause] = true;
  }
  const material = situation.answer(materialFact);
  const tables = model.causes.map((_, cause) =>
    relevant[cause] ? causeTable(model, cause, situation, material) : undefined,
  );
  const { mixed, approximated } = chooseMixed(model, tables, evidence, material, jointValues);
  const tilt = tiltOf(model, known, evidence);
  const state = { model, case: known, situation, evidence, relevant, tables, mixed, approximated };
  return tilt === undefined ? state : { ...state, tilt };
}

/**
 * Virtual evidence (Pearl 1988) from how the description is worded. Divided by its average over the causes of the
 * complaint, so that it shifts chances among them and leaves to the unknown what it had.
 */
function tiltOf(model: Model, { words }: Case, { goal }: Evidence): Float64Array | undefined {
  if (words === undefined || model.likeness === undefined) return undefined;
  const likeness = model.likeness(words);
  const logs = Float64Array.from(model.causes, ({ id }) => likeness[id] ?? 0);
  const shares = new Float64Array(logs.length);
  if (goal === undefined) shares.set(model.causes.map(({ usual }) => usual.value));
  for (const { cause, link } of goal === undefined ? [] : model.observables[goal]!.parents)
    shares[cause] = model.causes[cause]!.usual.value * (link.atLeast[0] as number);
  const most = Math.max(...logs.filter((_, cause) => shares[cause] !== 0));
  if (!Number.isFinite(most)) return undefined;
  const factors = logs.map((log) => Math.exp(log - most));
  const sum = shares.reduce((total, share) => total + share, 0);
  const average = factors.reduce((total, factor, cause) => total + factor * shares[cause]!, 0) / sum;
  return factors.map((factor) => factor / average);
}

function answersOf(known: Case): Record<string, string> {
  const answers: Record<string, string> = { ...known.signs };
  for (const [symptom, seen] of Object.entries(known.symptoms)) answers[symptom] = seen ? 'yes' : 'no';
  if (known.complaint !== undefined) answers[known.complaint] = 'yes';
  return answers;
}

function gatherEvidence(model: Model, known: Case): Evidence {
  const observed = new Map<number, Observation>();
  for (const [id, answer] of Object.entries(answersOf(known))) {
    const finding = model.observableIndex.get(id);
    if (finding === undefined) continue;
    const level = model.observables[finding]!.levels.indexOf(answer);
    if (level >= 0) observed.set(finding, level);
  }
  const goal = known.complaint === undefined ? undefined : model.observableIndex.get(known.complaint);
  const tried = remainderOf(model, known.tried);
  return { observed, ...(goal === undefined ? {} : { goal }), ...(tried === undefined ? {} : { tried }) };
}

/**
 * How much power over the complaint an attempt leaves to the causes it was not aimed at, when it changed something. An
 * improvement without a cure speaks for what the fix removes by about 2 to 1 (assumption: people report small changes
 * as improvements).
 */
const othersLeftWhenBetter = 0.5;

function remainderOf(model: Model, tried: Readonly<Record<string, Outcome>>): Remainder | undefined {
  const attempts = Object.entries(tried);
  if (attempts.length === 0) return undefined;
  const causes = new Float64Array(model.causes.length).fill(1);
  let leak = 1;
  for (const [id, outcome] of attempts) {
    const fix = model.knowledge.fixes[id];
    if (fix === undefined) continue;
    if (outcome === 'better') {
      leak *= othersLeftWhenBetter;
      for (let k = 0; k < causes.length; k++) {
        if (!fix.removes[model.causes[k]!.id]) causes[k] = (causes[k] as number) * othersLeftWhenBetter;
      }
      continue;
    }
    for (const [cause, chance] of Object.entries(fix.removes)) {
      const k = model.causeIndex.get(cause);
      if (k !== undefined) causes[k] = (causes[k] as number) * inside(1 - chance.value);
    }
  }
  return { causes, leak };
}

/**
 * Facts that bear on several causes make them depend on each other, so the ones that matter most are weighed jointly; how
 * much one matters is how far it moves the chance of the causes that could explain the complaint.
 */
function chooseMixed(
  model: Model,
  tables: readonly (CauseTable | undefined)[],
  evidence: Evidence,
  material: string | undefined,
  jointValues: number,
): { mixed: Grid[]; approximated: string[] } {
  const goal = evidence.goal === undefined ? undefined : model.observables[evidence.goal];
  const power = new Map((goal?.parents ?? []).map(({ cause, link }) => [cause, link.atLeast[0] as number]));
  const influence = new Map<string, { grid: Grid; causes: number; sum: number }>();
  const averaged = new Set<string>();
  tables.forEach((table, cause) => {
    if (table === undefined) return;
    for (const fact of table.averaged) averaged.add(fact);
    for (const axis of table.chance.axes) {
      const entry = influence.get(axis.fact) ?? { grid: axis, causes: 0, sum: 0 };
      entry.causes += 1;
      const strength = power.get(cause) ?? 0;
      if (strength > 0) entry.sum += strength * spreadOver(table, axis, material);
      influence.set(axis.fact, entry);
    }
  });
  const shared = [...influence.values()]
    .filter((entry) => entry.causes > 1)
    .sort((a, b) => b.sum - a.sum || (a.grid.fact < b.grid.fact ? -1 : 1));
  const mixed: Grid[] = [];
  let size = 1;
  for (const { grid, sum } of shared) {
    if (sum === 0 || size * grid.size > jointValues) averaged.add(grid.fact);
    else {
      mixed.push(grid);
      size *= grid.size;
      averaged.delete(grid.fact);
    }
  }
  return { mixed: inOrder(mixed), approximated: [...averaged].sort() };
}

/** Standard deviation of a cause's chance over one fact's alternatives. */
function spreadOver(table: CauseTable, axis: Grid, material: string | undefined): number {
  const weights = axis.weights(material);
  let mean = 0;
  let square = 0;
  for (let index = 0; index < axis.size; index++) {
    const chance = average(table.chance, new Map([[axis.fact, index]]), material);
    const weight = weights[index] as number;
    mean += weight * chance;
    square += weight * chance * chance;
  }
  return Math.sqrt(Math.max(0, square - mean * mean));
}

/** The networks that the unknown facts leave open, given what is supposed; `weight` is the chance of what is supposed. */
export function scenariosOf(
  state: State,
  supposed: Supposed = nothingSupposed,
): { scenarios: Scenario[]; weight: number } {
  const scenarios: Scenario[] = [];
  const fixed = new Map(supposed);
  const given = inOrder([...supposed.keys()].map((fact) => state.model.grids.get(fact)!));
  const open = state.mixed.filter((grid) => !supposed.has(grid.fact));
  const axes = inOrder([...open, ...given]);
  const everything = new Map(axes.map((axis) => [axis.fact, 0]));
  const priors = priorsFor(state, everything);
  let total = 0;
  const visit = (depth: number, weight: number, material: string | undefined) => {
    const axis = axes[depth];
    if (axis === undefined) {
      total += weight;
      scenarios.push({
        weight,
        network: { prior: priors(fixed), findings: findingsOf(state, fixed) },
      });
      return;
    }
    const weights = axis.weights(material);
    const only = supposed.get(axis.fact);
    for (let index = 0; index < axis.size; index++) {
      if (only !== undefined && index !== only) continue;
      const share = weights[index] as number;
      if (share === 0) continue;
      fixed.set(axis.fact, index);
      const next = axis.fact === materialFact ? (axis.valueAt(index, material) as string) : material;
      visit(depth + 1, weight * share, next);
    }
    if (only === undefined) fixed.delete(axis.fact);
  };
  visit(0, 1, state.situation.answer(materialFact));
  return { scenarios: scenarios.map((s) => ({ ...s, weight: s.weight / total })), weight: total };
}

const usualShares = new WeakMap<Model, Float64Array>();

/** Chances of the causes as a function of what is supposed; only which facts are supposed must stay the same. */
function priorsFor(state: State, supposed: Supposed): (supposed: Supposed) => Float64Array {
  const { model, tilt } = state;
  const material = state.situation.answer(materialFact);
  // What has no hand in anything observed only adds to what could be seen next: its plain share will do.
  const usual = usualShares.get(model) ?? Float64Array.from(model.causes.map((cause) => cause.usual.value));
  usualShares.set(model, usual);
  const relevant: { readonly cause: number; readonly table: Table }[] = [];
  state.tables.forEach((table, cause) => {
    if (table) relevant.push({ cause, table: overSupposed(table.chance, supposed, material) });
  });
  return (now) => {
    const priors = usual.slice();
    for (const { cause, table } of relevant)
      priors[cause] = inside(tilted(valueAt(table, now), tilt?.[cause]));
    return priors;
  };
}

/** A chance whose odds are multiplied by a factor. */
function tilted(chance: number, factor = 1): number {
  const odds = chance * factor;
  return odds / (odds + 1 - chance);
}

function findingsOf(state: State, supposed: Supposed): readonly Finding[] {
  const base = baseFindings(state);
  let findings = base;
  for (const index of state.model.conditional) {
    const observable = state.model.observables[index]!;
    if (!observable.reads.some((fact) => supposed.has(fact))) continue;
    // Copied at the first finding that what is supposed changes.
    if (findings === base) findings = [...base];
    (findings as Finding[])[index] = makeFinding(state, observable, supposed);
  }
  return findings;
}

const plainFindings = new WeakMap<Observable, Finding>();
const findingsOfState = new WeakMap<State, readonly Finding[]>();

function baseFindings(state: State): readonly Finding[] {
  const there = findingsOfState.get(state);
  if (there) return there;
  const made = state.model.observables.map((observable) => {
    if (observable.reads.length > 0) return makeFinding(state, observable, nothingSupposed);
    const plain = plainFindings.get(observable) ?? makeFinding(state, observable, nothingSupposed);
    plainFindings.set(observable, plain);
    return plain;
  });
  findingsOfState.set(state, made);
  return made;
}

function makeFinding(state: State, observable: Observable, supposed: Supposed): Finding {
  const levels = observable.levels.length;
  const parents = Int32Array.from(observable.parents, ({ cause }) => cause);
  const atMost = new Float64Array(parents.length * levels);
  observable.parents.forEach(({ link }, row) => {
    atMost.set(cumulative(strengthOf(state, link, supposed)), row * levels);
  });
  return { levels, leak: cumulative(observable.leak), parents, atMost };
}

/** Chance of at most each level, from the chance of each level or a higher one. */
function cumulative(atLeast: readonly number[]): Float64Array {
  const row = new Float64Array(atLeast.length + 1).fill(1);
  atLeast.forEach((chance, index) => {
    row[index] = 1 - inside(chance);
  });
  return row;
}

/** A link's strength under its conditions; while those are unknown, averaged over how usual they are. */
function strengthOf(state: State, link: Link, supposed: Supposed): readonly number[] {
  if (link.when.length === 0) return link.atLeast;
  const { situation } = state;
  const material = situation.answer(materialFact);
  const strength = new Array<number>(link.atLeast.length).fill(0);
  let left = 1;
  for (const { when, atLeast } of link.when) {
    const share = left * average(conditionTable(state, when), supposed, material);
    atLeast.forEach((chance, level) => {
      strength[level] = (strength[level] as number) + share * chance;
    });
    left -= share;
  }
  link.atLeast.forEach((chance, level) => {
    strength[level] = (strength[level] as number) + left * chance;
  });
  return strength;
}

const conditionTables = new WeakMap<State, Map<Condition, Table>>();

/** 1 where the condition holds, else 0, over the unknown facts it depends on. */
function conditionTable(state: State, when: Condition): Table {
  const { model, situation } = state;
  const tables = conditionTables.get(state) ?? new Map<Condition, Table>();
  conditionTables.set(state, tables);
  const there = tables.get(when);
  if (there) return there;
  const behind = [...factsBehind(model.knowledge, readsOf(when))];
  const axes = inOrder(
    behind
      .filter((id) => isWeighed(model.knowledge.facts[id]!) && situation.get(id) === undefined)
      .map((id) => model.grids.get(id)!),
  );
  const made = tabulate(axes, situation, () => (holds(when, situation) === true ? 1 : 0));
  tables.set(when, made);
  return made;
}
