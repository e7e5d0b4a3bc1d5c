import type { Action } from './action.ts';
import type { AnswerInput } from './answerInput.ts';
import { AnswerWeights } from './answerWeights.ts';
import { RepairWalk } from './greedyPlan.ts';
import type { Evidence, Scenario } from './network.ts';
import type { Masses } from './world.ts';

export type { AnswerInput } from './answerInput.ts';

export interface QuestionInput {
  readonly id: string;
  /** What it costs to answer, in the unit of the actions. */
  readonly cost: number;
  /** Chance that no answer can be given, whatever the truth; 0 to 1. */
  readonly cannotTell: number;
  readonly answers: readonly AnswerInput[];
}

export interface QuestionContext {
  readonly scenarios: readonly Scenario[];
  readonly evidence: Evidence;
  readonly actions: readonly Action[];
  /** Cost of the call that always ends the matter; finite. */
  readonly callCost: number;
  readonly questions: readonly QuestionInput[];
  /** A question with an answer likelier than this is not valued; .99 unless given. */
  readonly settledAbove?: number;
}

export interface QuestionValue {
  readonly id: string;
  /** Expected drop of the expected cost of repair, "cannot tell" included. */
  readonly gross: number;
  /** `gross` less the cost of asking. */
  readonly net: number;
  /** Chance of each answer, in the order given, when one is given; they add up to 1. */
  readonly chances: Float64Array;
  /** Chance that the best first action, the call being one, stays what it is once the answer is known. */
  readonly sameDecision: number;
  /** Expected entropy, in bits, of the responsible-cause distribution (with "other") after an answer. */
  readonly expectedEntropy: number;
  /** The question was found to bear on nothing, or its answer to be known already, and was not valued. */
  readonly skipped: boolean;
}

export interface QuestionValues {
  /** Best net value first; equal ones by id. */
  readonly questions: readonly QuestionValue[];
  /** Expected cost of repair if nothing more is asked. */
  readonly expectedCost: number;
  /** Entropy now, in bits. */
  readonly entropy: number;
  /** Best first action now; -1 is the call. */
  readonly firstAction: number;
}

/**
 * One-step value of each open question (Heckerman, Breese and Rommelse 1995): with ECR the expected cost of repair of
 * the greedy plan, u the chance of "cannot tell" and a the answers,
 *
 *     net = ECR(now) - ECO,   ECO = cost + (1 - u) sum of P(a) ECR(a) + u ECR(now)
 *
 * Answers need not exclude each other: their chances are made to add up to 1.
 */
export function valueQuestions(context: QuestionContext): QuestionValues {
  const walk = new RepairWalk(context.actions, context.callCost);
  const weights = new AnswerWeights(context.scenarios, context.evidence);
  const possible = weights.now.total > 0;
  const expectedCost = possible ? costOf(walk, weights.now) / weights.now.total : context.callCost;
  const firstAction = possible ? firstOf(walk) : -1;
  const entropy = possible ? entropyOf(weights.now) / weights.now.total : 0;
  const now: Now = {
    walk,
    weights,
    expectedCost,
    firstAction,
    entropy,
    settledAbove: context.settledAbove ?? 0.99,
  };
  const questions = context.questions.map((question) => valueOne(question, now));
  // Not localeCompare: the order must not depend on the machine's language.
  questions.sort((a, b) => b.net - a.net || (a.id < b.id ? -1 : Number(a.id > b.id)));
  return { questions, expectedCost, entropy, firstAction };
}

interface Now {
  readonly walk: RepairWalk;
  readonly weights: AnswerWeights;
  readonly expectedCost: number;
  readonly firstAction: number;
  readonly entropy: number;
  readonly settledAbove: number;
}

function valueOne(question: QuestionInput, now: Now): QuestionValue {
  const { walk, weights } = now;
  const { id, answers, cost, cannotTell } = question;
  const totals = answers.map((answer) => weights.totalOf(answer));
  const sum = totals.reduce((all, total) => all + total, 0);
  const chances = Float64Array.from(totals, (total) => (sum > 0 ? total / sum : 0));
  const settled = !(sum > 0) || chances.some((chance) => chance > now.settledAbove);
  if (settled || !weights.canMatter(answers)) {
    return {
      id,
      gross: 0,
      net: -cost,
      chances,
      sameDecision: 1,
      expectedEntropy: now.entropy,
      skipped: true,
    };
  }
  let repair = 0;
  let entropy = 0;
  let sameDecision = 0;
  answers.forEach((answer, index) => {
    if (!(totals[index]! > 0)) return;
    // Costs and entropies of masses come out multiplied by their total: no division by a small chance is needed.
    const masses = weights.massesOf(answer);
    repair += costOf(walk, masses);
    if (firstOf(walk) === now.firstAction) sameDecision += chances[index]!;
    entropy += entropyOf(masses);
  });
  const gross = (1 - cannotTell) * (now.expectedCost - repair / sum);
  return {
    id,
    gross,
    net: gross - cost,
    chances,
    sameDecision,
    expectedEntropy: entropy / sum,
    skipped: false,
  };
}

function costOf(walk: RepairWalk, masses: Masses): number {
  return walk.run(masses.responsible, masses.total, false);
}

function firstOf(walk: RepairWalk): number {
  return walk.stopAfter > 0 ? walk.order[0]! : -1;
}

/** Total times the entropy in bits of the masses over their total, with what they leave over as one more case. */
function entropyOf({ responsible, total }: Masses): number {
  let other = total;
  let sum = 0;
  for (let cause = 0; cause < responsible.length; cause += 1) {
    const mass = responsible[cause]!;
    if (!(mass > 0)) continue;
    other -= mass;
    sum -= mass * Math.log2(mass / total);
  }
  // Less than rounding is nothing at all.
  return other > 1e-15 * total ? sum - other * Math.log2(other / total) : sum;
}
