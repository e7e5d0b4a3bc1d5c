/** The library's face: the same functions that the command uses. */
export { readCases } from './cases/caseFile.ts';
export type { Reply } from './dialogue/answer.ts';
export type { Diagnosis, PlannedFix, PlanStep, RankedCause } from './dialogue/diagnose.ts';
export { type Case, type Engine, emptyCase, openEngine, type Standing } from './dialogue/engine.ts';
export type { Interview } from './dialogue/interview.ts';
export { type NextStep, nextStep } from './dialogue/nextStep.ts';
export type { Question } from './dialogue/question.ts';
export type { Reason } from './dialogue/reasons.ts';
export * from './knowledge/knowledgeBase.ts';
export type { Problem } from './knowledge/problem.ts';
export { buildModel, type Model } from './model/model.ts';
export { type DiagnosisJson, diagnosisJson } from './report/diagnosisJson.ts';
export { type ListItem, listItems } from './report/listJson.ts';
