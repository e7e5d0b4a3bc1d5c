import type { Engine } from '../dialogue/engine.ts';
import { bestRank, type Labelled } from './figures.ts';
import type { LabelledCase } from './labelled.ts';
import { runInterview, runWhole } from './simulate.ts';

/** A labelled case, run as an interview and with everything it states at once. */
export interface Tried {
  readonly item: LabelledCase;
  readonly interview: Labelled;
  readonly stated: Labelled;
  /** Place of the truth with everything stated, and after the interview; Infinity where it is not in the ranking. */
  readonly rank: number;
  readonly rankAsked: number;
}

export function runBoth(engine: Engine, item: LabelledCase): Tried {
  const base = { name: item.name, family: item.family, truth: item.truth };
  const { questions } = engine.knowledge.weights;
  const interview = { ...base, run: runInterview(engine, item.read.case, questions) };
  const stated = { ...base, run: runWhole(engine, item.read.case) };
  return { item, interview, stated, rank: bestRank(stated), rankAsked: bestRank(interview) };
}
