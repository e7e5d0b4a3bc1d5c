import type { Engine } from '../dialogue/engine.ts';
import { readWords } from '../intake/readWords.ts';
import type { Search } from '../intake/search.ts';
import { withReadings } from '../intake/withReadings.ts';
import { type Case, emptyCase } from '../model/case.ts';
import type { Labelled } from './figures.ts';
import type { LabelledCase } from './labelled.ts';
import { runInterview, runWhole } from './simulate.ts';

/** A case begun from free words and the material alone: as it stands then, and after the questions. */
export interface FromWords {
  readonly words: Labelled;
  readonly interview: Labelled;
}

/** The complaint is the symptom that the search puts first; facts and signs are those read from the words. */
export function runFromWords(engine: Engine, search: Search, item: LabelledCase): FromWords | undefined {
  const says = item.read.case.words ?? item.read.raw['says'];
  if (typeof says !== 'string') return undefined;
  const { knowledge } = engine;
  const complaint = search.find(says, { kinds: ['symptom'], most: 1 })[0]?.id;
  const stated = item.read.case;
  const { material } = stated.facts;
  const bare: Case = {
    ...emptyCase,
    ...(complaint === undefined ? {} : { complaint }),
    facts: material === undefined ? {} : { material },
  };
  const start = withReadings(bare, readWords(knowledge, says, {})).case;
  const base = { name: item.name, family: item.family, truth: item.truth };
  if (complaint === undefined) return undefined;
  return {
    words: { ...base, run: runWhole(engine, start) },
    interview: { ...base, run: runInterview(engine, stated, knowledge.weights.questions, start) },
  };
}
