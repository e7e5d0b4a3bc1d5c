import type { Beliefs } from '../inference/network.ts';
import { infer } from '../inference/posterior.ts';
import type { Case } from '../model/case.ts';
import type { Model } from '../model/model.ts';
import { buildState, scenariosOf } from '../model/state.ts';
import { type Readings, readWords } from './readWords.ts';
import { openSearch } from './search.ts';
import { withReadings } from './withReadings.ts';

/** A symptom that a description may complain of, and what else would then be read in it. */
export interface LikelySymptom {
  readonly id: string;
  /** Among the symptoms listed. */
  readonly chance: number;
  readonly readings: Readings;
}

/** Symptoms that are weighed against one another. */
const weighed = 5;
/** Power of a score of the search beside a probability; chosen on the words of real cases. */
const scorePower = 8;
/** Joint values of unknown facts: the order of a few symptoms does not hang on more. */
const jointValues = 4;

/**
 * Which symptom a description complains of: how well it fits the words, and how well what else is read in the words fits
 * the causes of that symptom. Likeliest first; none where nothing fits. Throws nothing.
 * @param known what is known beside the words; its complaint is not looked at
 */
export function likelySymptoms(model: Model, text: string, known: Case): LikelySymptom[] {
  const hits = openSearch(model.knowledge).find(text, { kinds: ['symptom'], most: weighed });
  const best = hits[0]?.score ?? 1;
  // The same for each, so that what a symptom's causes have nothing to do with speaks against it.
  const all = readWords(model.knowledge, text, { ...known, symptoms: {} });
  const likeness = model.likeness?.(text) ?? {};
  const weights = hits.map(({ id, score }) => {
    const bare = { ...withoutWords(known), complaint: id };
    const symptoms = { ...known.symptoms, [id]: true };
    const readings = readWords(model.knowledge, text, { ...known, symptoms });
    const told = think(model, withReadings(bare, all).case);
    const fits =
      told.logEvidence - think(model, bare).logEvidence + wordingOf(model, told.responsible, likeness);
    return {
      id,
      readings,
      weight: scorePower * Math.log(score / best) + (Number.isFinite(fits) ? fits : -50),
    };
  });
  const most = Math.max(...weights.map(({ weight }) => weight));
  const shares = weights.map(({ weight }) => Math.exp(weight - most));
  const sum = shares.reduce((total, share) => total + share, 0);
  return weights
    .map(({ id, readings }, index) => ({ id, readings, chance: shares[index]! / sum }))
    .sort((a, b) => b.chance - a.chance);
}

function think(model: Model, known: Case): Beliefs {
  const state = buildState(model, known, jointValues);
  return infer(scenariosOf(state).scenarios, state.evidence);
}

/** Log of how far the wording speaks for the causes that may be to blame. */
function wordingOf(
  model: Model,
  responsible: ArrayLike<number>,
  likeness: Readonly<Record<string, number>>,
): number {
  const logs = model.causes.map(({ id }) => likeness[id] ?? 0);
  const most = Math.max(...logs);
  const sum = logs.reduce((total, log, cause) => total + responsible[cause]! * Math.exp(log - most), 0);
  return Math.log(sum);
}

function withoutWords({ words: _, ...rest }: Case): Case {
  return rest;
}
