/**
 * The knowledge, for the layers above. Nothing here loads the YAML reader or the schemas before they are needed; what
 * checks files (`load.ts`, `parse.ts`, `jsonSchema.ts`) is imported by its own name.
 */
export { type CompiledCondition, type ConditionLabels, compileCondition, describe } from './condition.ts';
export { evaluate, holds, type Lookup, readsOf } from './evaluate.ts';
export { type Compiled, compileExpression, type Scope } from './expression.ts';
export { type FolderOptions, findPlaces, type Places, shippedFolder } from './folders.ts';
export type * from './knowledgeBase.ts';
export { gradeOf, type Problem, type ProblemCode, problemCodes, sortProblems } from './problem.ts';
export { type Quantity, readQuantity } from './readQuantity.ts';
export { type Opened, openKnowledge, verifySnapshot } from './snapshot.ts';
export { suggest } from './suggest.ts';
export { convert, materialUnits, units } from './units.ts';
