import type { Engine } from '../dialogue/engine.ts';
import { type Figures, figuresOf } from './figures.ts';
import { type FromWords, runFromWords } from './fromWords.ts';
import { type IntakeFigures, type IntakeShare, intakeFigures } from './intakeFigures.ts';
import type { LabelledCase } from './labelled.ts';

/** What the words of a set of cases give. */
export interface WordsFigures {
  readonly intake: IntakeFigures;
  /** Words and material alone, before any question. */
  readonly words: Figures;
  /** Then the confirmed readings and the questions. */
  readonly interview: Figures;
  /** Shares of the cases whose complaint was proposed first, and among the five proposed. */
  readonly complaintFirst: number;
  readonly complaintProposed: number;
}

/** Sets of cases with words, by name; cases in which another cause is to blame serve the intake only. */
export function wordsFigures(
  engine: Engine,
  sets: Readonly<Record<string, readonly LabelledCase[]>>,
): Record<string, WordsFigures> {
  return Object.fromEntries(
    Object.entries(sets).map(([name, cases]) => {
      const runs = cases
        .filter((item) => item.read.expectation.expect !== 'not-first' && item.truth.length > 0)
        .flatMap((item): readonly FromWords[] => {
          const run = runFromWords(engine, item);
          return run === undefined ? [] : [run];
        });
      const share = (good: (run: FromWords) => boolean) =>
        runs.length === 0 ? 0 : runs.filter(good).length / runs.length;
      return [
        name,
        {
          intake: intakeFigures(engine.knowledge, cases),
          words: figuresOf(runs.map((run) => run.words)),
          interview: figuresOf(runs.map((run) => run.interview)),
          complaintFirst: share(({ proposed }) => proposed === 1),
          complaintProposed: share(({ proposed }) => proposed > 0),
        },
      ];
    }),
  );
}

const percent = (share: number | null) =>
  share === null ? '   -' : `${Math.round(share * 100)}`.padStart(4);

/** @param tree the same cases started from the tree, where there are such figures */
export function wordsLines(all: Readonly<Record<string, WordsFigures>>, tree: Figures): string[] {
  const width = 26;
  const intake = (share: IntakeShare) =>
    `${percent(share.precision)}${percent(share.recall)} (${share.read - share.wrong}/${share.read}, ${share.found}/${share.labelled})`.padEnd(
      width,
    );
  const ranks = ({ cases, first, firstThree }: Figures) =>
    `${String(cases).padStart(4)}${percent(first)}${percent(firstThree)}`;
  return [
    'Read from words: precision and recall in percent (right/read, found/labelled)',
    `${''.padEnd(width)}${['facts, signs, changes', 'facts', 'signs', 'symptoms'].map((name) => name.padEnd(width)).join('')}`.trimEnd(),
    ...Object.entries(all).map(([name, { intake: read }]) =>
      `${name.padEnd(width)}${[read.all, read.facts, read.signs, read.symptoms].map(intake).join('')}`.trimEnd(),
    ),
    '',
    'From words and material alone: cases, true cause first and in three, complaint proposed first and in five;',
    'then confirmed and with questions: first and in three, median asked',
    ...Object.entries(all).map(
      ([name, { words, interview, complaintFirst, complaintProposed }]) =>
        `${name.padEnd(width)}${ranks(words)}  ${percent(complaintFirst)}${percent(complaintProposed)}   ${ranks(interview).slice(4)}  ${interview.medianAsked}`,
    ),
    `${'real, from the tree'.padEnd(width)}${''.padEnd(25)}${ranks(tree).slice(4)}  ${tree.medianAsked}`,
    '',
  ];
}
