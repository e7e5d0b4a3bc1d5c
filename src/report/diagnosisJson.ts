import type { Diagnosis, PlannedFix } from '../dialogue/diagnose.ts';
import type { NextStep } from '../dialogue/nextStep.ts';
import type { Caution, KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import type { Problem } from '../knowledge/problem.ts';

/** Raised when a field changes its meaning or goes; fields that are added do not raise it. */
export const jsonVersion = 1;

export interface DiagnosisJson {
  readonly version: number;
  readonly complaint: string | null;
  readonly causes: readonly {
    readonly id: string;
    readonly title: string;
    readonly chance: number;
    readonly word: string;
    readonly local?: string;
    readonly reasons: readonly { readonly text: string; readonly id: string; readonly decibans: number }[];
  }[];
  readonly otherChance: number;
  readonly contradictory: boolean;
  readonly fixes: readonly FixJson[];
  /** Fixes to make together before one test print, in order; the plan may end before all fixes are used. */
  readonly plan: readonly { readonly fixes: readonly string[]; readonly clearedSoFar: number }[];
  readonly expectedMinutes: number | null;
  readonly nextQuestion: QuestionJson | null;
  readonly unknown: readonly { readonly id: string; readonly text: string }[];
  readonly approximated: readonly string[];
  readonly cautions: readonly { readonly id: string; readonly text: string }[];
  readonly problems: readonly Problem[];
}

interface FixJson {
  readonly id: string;
  readonly do: string;
  readonly set: string | null;
  readonly from: number | null;
  readonly to: number | readonly number[] | null;
  readonly unit: string | null;
  readonly heldBack: readonly string[];
  readonly minutes: { readonly handsOn: number; readonly waiting: number; readonly reprint: number };
  readonly grams: number;
  readonly chance: number;
  readonly removes: readonly string[];
  readonly sideEffects: readonly string[];
  readonly seenWhenItWorked: string;
  readonly cautions: readonly { readonly id: string; readonly text: string }[];
  readonly local?: string;
}

interface QuestionJson {
  readonly id: string;
  readonly kind: 'fact' | 'sign' | 'symptom';
  readonly text: string;
  readonly answers: readonly { readonly id: string; readonly text: string }[];
  readonly unit: string | null;
  readonly range: readonly [number, number] | null;
  readonly worthMinutes: number;
  readonly purpose: 'cause' | 'number';
}

const textOf = (caution: Caution) => ({ id: caution.id, text: caution.text });

/** A diagnosis as plain data with names that are a promise; see `jsonVersion`. */
export function diagnosisJson(
  knowledge: KnowledgeBase,
  diagnosis: Diagnosis,
  next: NextStep,
  problems: readonly Problem[],
): DiagnosisJson {
  return {
    version: jsonVersion,
    complaint: diagnosis.case.complaint ?? null,
    causes: diagnosis.causes.map(({ cause, chance, word, reasons }) => ({
      id: cause.id,
      title: cause.name,
      chance,
      word,
      ...(cause.local === undefined ? {} : { local: cause.local }),
      reasons: reasons.map(({ text, id, decibans }) => ({ text, id, decibans })),
    })),
    otherChance: diagnosis.otherChance,
    contradictory: diagnosis.contradictory,
    fixes: diagnosis.fixes.map((fix) => fixJson(knowledge, fix)),
    plan: diagnosis.plan.map((step) => ({
      fixes: step.fixes.map((fix) => fix.advice.fix.id),
      clearedSoFar: step.clearedSoFar,
    })),
    expectedMinutes: diagnosis.contradictory ? null : diagnosis.expectedMinutes,
    nextQuestion: next.kind === 'ask' ? questionJson(next) : null,
    unknown: diagnosis.unknown,
    approximated: diagnosis.approximated,
    cautions: diagnosis.cautions.map(textOf),
    problems,
  };
}

/** What is printed when something stops everything: no diagnosis, only the cautions. */
export function alarmJson(cautions: readonly Caution[], problems: readonly Problem[]) {
  return { version: jsonVersion, stopNow: true, cautions: cautions.map(textOf), problems };
}

function fixJson(knowledge: KnowledgeBase, planned: PlannedFix): FixJson {
  const { advice, chance, removes, sideEffects, cautions } = planned;
  const { fix } = advice;
  return {
    id: fix.id,
    do: fix.do,
    set: fix.set ?? null,
    from: advice.from ?? null,
    to: advice.to.length === 0 ? null : advice.to.length === 1 ? (advice.to[0] as number) : advice.to,
    unit: advice.unit ?? null,
    heldBack: advice.heldBack,
    minutes: advice.minutes,
    grams: advice.grams,
    chance,
    removes,
    sideEffects,
    seenWhenItWorked: fix.seenWhenItWorked,
    cautions: cautions.flatMap((id) => {
      const caution = knowledge.cautions[id];
      return caution ? [textOf(caution)] : [];
    }),
    ...(fix.local === undefined ? {} : { local: fix.local }),
  };
}

function questionJson({ question, worthMinutes, purpose }: Extract<NextStep, { kind: 'ask' }>): QuestionJson {
  return {
    id: question.id,
    kind: question.kind,
    text: question.text,
    answers: question.answers,
    unit: question.unit ?? null,
    range: question.range ?? null,
    worthMinutes,
    purpose,
  };
}
