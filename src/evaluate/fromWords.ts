import type { Engine } from '../dialogue/engine.ts';
import { likelySymptoms } from '../intake/likelySymptoms.ts';
import { type Readings, readWords } from '../intake/readWords.ts';
import { withReadings } from '../intake/withReadings.ts';
import { type Case, emptyCase } from '../model/case.ts';
import type { Labelled } from './figures.ts';
import { confirmedReadings } from './intakeFigures.ts';
import type { LabelledCase } from './labelled.ts';
import { runInterview, runWhole } from './simulate.ts';

/** A case begun from free words and the material alone: as it stands then, and after the questions. */
export interface FromWords {
  /** Nobody asked, nothing confirmed: the likeliest complaint and all that was read. */
  readonly words: Labelled;
  /** The person chose the complaint and struck out what was read wrongly; then the questions. */
  readonly interview: Labelled;
  /** Place of the true complaint among the symptoms proposed, from 1; 0 where it is not. */
  readonly proposed: number;
}

/** A person who finds the complaint among none of the symptoms proposed goes by the tree; the words are read all the same. */
export function runFromWords(engine: Engine, item: LabelledCase): FromWords | undefined {
  const says = item.read.case.words ?? item.read.raw['says'];
  if (typeof says !== 'string') return undefined;
  const { knowledge } = engine;
  const stated = item.read.case;
  const { material } = stated.facts;
  const bare: Case = { ...emptyCase, words: says, facts: material === undefined ? {} : { material } };
  const likely = likelySymptoms(engine.model, says, bare);
  const start = (complaint: string | undefined, readings: Readings): Case =>
    withReadings({ ...bare, ...(complaint === undefined ? {} : { complaint }) }, readings).case;
  const first = likely[0];
  const { complaint } = stated;
  const symptoms = complaint === undefined ? {} : { [complaint]: true };
  const confirmed = confirmedReadings(item, readWords(knowledge, says, { symptoms }));
  const base = { name: item.name, family: item.family, truth: item.truth };
  return {
    words: { ...base, run: runWhole(engine, first ? start(first.id, first.readings) : bare) },
    interview: {
      ...base,
      run: runInterview(engine, stated, knowledge.weights.questions, start(complaint, confirmed)),
    },
    proposed: likely.findIndex(({ id }) => id === complaint) + 1,
  };
}
