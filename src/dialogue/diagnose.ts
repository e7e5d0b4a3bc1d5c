import { exactPlan } from '../inference/exactPlan.ts';
import { greedyPlan } from '../inference/greedyPlan.ts';
import { holds } from '../knowledge/evaluate.ts';
import type { Cause, Caution } from '../knowledge/knowledgeBase.ts';
import type { Advice } from '../model/advice.ts';
import type { Case } from '../model/case.ts';
import type { Model } from '../model/model.ts';
import { chancesOf } from './chances.ts';
import { type ValuedQuestion, valueOpenQuestions } from './chooseQuestion.ts';
import { labelName } from './labels.ts';
import { isPresent } from './options.ts';
import { chanceWord } from './quantity.ts';
import { lowerFirst } from './question.ts';
import { type Reason, reasonsFor } from './reasons.ts';
import { forResult, type Thought, think } from './think.ts';

export interface RankedCause {
  readonly cause: Cause;
  /** Chance that removing this cause, and nothing else, clears the complaint. */
  readonly chance: number;
  readonly word: string;
  /** Empty for causes far down the list. */
  readonly reasons: readonly Reason[];
}

export interface PlannedFix {
  readonly advice: Advice;
  /** Chance that this change alone clears the complaint. */
  readonly chance: number;
  readonly removes: readonly string[];
  /** What it may spoil; first what is already seen on this print. */
  readonly sideEffects: readonly string[];
  readonly cautions: readonly string[];
}

/** Changes made together before one test print; one change in most steps. */
export interface PlanStep {
  readonly fixes: readonly PlannedFix[];
  /** Chance that the complaint is gone once this step and those before it are done. */
  readonly clearedSoFar: number;
}

export interface Diagnosis {
  readonly case: Case;
  readonly causes: readonly RankedCause[];
  /** Several causes together, or something this tool does not know. */
  readonly otherChance: number;
  /** The answers cannot all be true by anything the knowledge holds. */
  readonly contradictory: boolean;
  /** The cheapest plan; it ends in "stop and redesign, or ask someone". */
  readonly plan: readonly PlanStep[];
  /** All changes that could help, those of the plan first. */
  readonly fixes: readonly PlannedFix[];
  readonly expectedMinutes: number;
  /** What is not known and would be worth finding out, best first. */
  readonly unknown: readonly { readonly id: string; readonly text: string }[];
  readonly approximated: readonly string[];
  readonly cautions: readonly Caution[];
}

/** Causes that get their reasons worked out. */
const explained = 3;
/** Changes whose chance to help is smaller are not listed. */
const leastChance = 0.005;
const mostUnknown = 5;
/** From here on a print is one that nobody watches to its end. */
const longPrintMinutes = 240;

/** The whole answer to a case with a complaint, from what is known now. Pure. */
export function diagnose(model: Model, known: Case): Diagnosis {
  const thought = think(model, known, forResult);
  const { state, beliefs } = thought;
  const contradictory = beliefs.logEvidence === Number.NEGATIVE_INFINITY;
  const causes = contradictory ? [] : rankCauses(thought);
  const { steps, fixes, expectedMinutes } = planFixes(thought);
  return {
    case: known,
    causes,
    otherChance: chancesOf(beliefs, model.knowledge.weights.sharpness).other,
    contradictory,
    plan: steps,
    fixes,
    expectedMinutes,
    unknown: contradictory ? [] : worthFinding(thought),
    approximated: state.approximated.map((fact) => labelName(model.knowledge, fact)),
    cautions: cautionsFor(thought, steps),
  };
}

function rankCauses({ state, beliefs }: Thought): RankedCause[] {
  const { model } = state;
  const { responsible } = beliefs;
  const { causes: chances } = chancesOf(beliefs, model.knowledge.weights.sharpness);
  const order = model.causes
    .map((_, index) => index)
    .filter((index) => (responsible[index] as number) > 0)
    .sort((a, b) => (responsible[b] as number) - (responsible[a] as number) || a - b);
  const reasons = reasonsFor(model, state.case, order.slice(0, explained));
  return order.map((index, rank) => {
    const chance = chances[index] as number;
    return {
      cause: model.causes[index]!,
      chance,
      word: chanceWord(model.knowledge.words.chances, chance),
      reasons: reasons[rank] ?? [],
    };
  });
}

function planFixes({ state, scenarios, beliefs, options }: Thought) {
  const { model, evidence } = state;
  const actions = options.map((option) => option.action);
  const { callMinutes, bundleMinutes } = model.knowledge.weights;
  const { causes: chances } = chancesOf(beliefs, model.knowledge.weights.sharpness);
  const planned = options.map(({ advice, action }) => ({
    advice,
    chance: action.removes.reduce((sum, { cause, chance }) => sum + chance * (chances[cause] as number), 0),
    removes: action.removes.map(({ cause }) => model.causes[cause]!.id),
    sideEffects: sideEffectsOf(state, advice),
    cautions: advice.fix.cautions,
  }));
  const exact = exactPlan(scenarios, evidence, actions, callMinutes, bundleMinutes);
  const left = Float64Array.from(chances);
  const steps = exact.steps.map((step) => {
    for (const index of step.actions) {
      for (const { cause, chance } of actions[index]!.removes) left[cause]! *= 1 - chance;
    }
    const still = left.reduce((sum, chance) => sum + chance, 0);
    const all = chances.reduce((sum, chance) => sum + chance, 0);
    return { fixes: step.actions.map((index) => planned[index]!), clearedSoFar: all - still };
  });
  const inPlan = exact.steps.flatMap((step) => [...step.actions]);
  const { order } = greedyPlan(beliefs.responsible, beliefs.other, actions, callMinutes);
  const rest = order.filter((index) => !inPlan.includes(index) && planned[index]!.chance >= leastChance);
  return {
    steps,
    fixes: [...inPlan, ...rest].map((index) => planned[index]!),
    expectedMinutes: exact.expectedCost,
  };
}

function sideEffectsOf(state: Thought['state'], { fix }: Advice): string[] {
  const worsens = Object.entries(fix.worsens);
  const seen = worsens
    .filter(([id]) => isPresent(state, id))
    .map(([, how]) => `${how} You already see this.`);
  const other = worsens.filter(([id]) => !isPresent(state, id)).map(([, how]) => how);
  return [...seen, ...other, ...fix.sideEffects];
}

function worthFinding(thought: Thought): { id: string; text: string }[] {
  const { state } = thought;
  const { knowledge } = state.model;
  // What the person was asked and could not tell is worth finding out too: it counts as open here.
  const reopened = { ...state, case: { ...state.case, unknown: [] } };
  const { questions } = valueOpenQuestions({ ...thought, state: reopened });
  return questions
    .filter((valued: ValuedQuestion) => valued.worthMinutes > 0)
    .slice(0, mostUnknown)
    .map(({ question }) => ({ id: question.id, text: lowerFirst(labelName(knowledge, question.id)) }));
}

/** Cautions of every change in the plan, those that hold for this print whatever is done, and the general one with them. */
function cautionsFor({ state }: Thought, steps: readonly PlanStep[]): Caution[] {
  const { cautions } = state.model.knowledge;
  const named = new Set(steps.flatMap((step) => step.fixes.flatMap((fix) => [...fix.cautions])));
  const isLong = (state.case.reprint?.minutes ?? 0) > longPrintMinutes;
  const shown = Object.values(cautions)
    .filter((caution) => !caution.stopNow && caution.id !== 'general')
    .filter(
      (caution) =>
        named.has(caution.id) ||
        (isLong && caution.longPrints) ||
        (caution.when && holds(caution.when, state.situation) === true),
    )
    .sort((a, b) => Number(named.has(b.id)) - Number(named.has(a.id)) || (a.id < b.id ? -1 : 1));
  const general = cautions['general'];
  return shown.length > 0 && general ? [...shown, general] : shown;
}
