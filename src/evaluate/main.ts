import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openEngine } from '../dialogue/engine.ts';
import { openLikeness } from '../intake/likeness.ts';
import { loadKnowledge } from '../knowledge/load.ts';
import { type Figures, figuresOf } from './figures.ts';
import { type LabelledCase, ownCases, realCases } from './labelled.ts';
import { missLines } from './misses.ts';
import { runBoth, type Tried } from './runBoth.ts';
import { wordsFigures, wordsLines } from './wordsFigures.ts';

/**
 * `npm run evaluate [-- --json]`: labelled cases through the engine, and how well it did. `interview`: a simulated person
 * starts from the complaint and answers what the case states; `stated`: everything the case states, at once.
 */
const root = fileURLToPath(new URL('../../', import.meta.url));
const asJson = process.argv.includes('--json');
if (process.argv.includes('--search')) {
  process.stdout.write(`${(await import('./searchFigures.ts')).searchReport(root, asJson)}\n`);
  process.exit();
}

interface Measured {
  readonly interview: Figures;
  readonly stated: Figures;
}

const { knowledge } = loadKnowledge({ shipped: join(root, 'knowledge'), local: [] });
const engine = openEngine(knowledge);

function measure(list: readonly Tried[]): Measured {
  return {
    interview: figuresOf(list.map((run) => run.interview)),
    stated: figuresOf(list.map((run) => run.stated)),
  };
}

function part(cases: readonly LabelledCase[]) {
  const counted = cases.filter((item) => item.read.expectation.expect !== 'not-first');
  const runs = counted.map((item) => runBoth(engine, item));
  const groups = (key: (run: Tried) => string) =>
    Object.fromEntries(
      [...new Set(runs.map(key))]
        .sort()
        .map((name) => [name, measure(runs.filter((run) => key(run) === name))]),
    );
  return {
    runs,
    json: {
      ...measure(runs),
      qualities: groups((run) => run.item.quality),
      families: groups((run) => run.item.family),
      misses: runs
        .filter((run) => run.rankAsked > 1)
        .map(({ item, rank, rankAsked, interview }) => ({
          name: item.name,
          truth: item.truth,
          rankStated: rank,
          rankInterview: rankAsked,
          first: interview.run.causes[0]?.id ?? 'none',
        })),
    },
  };
}

const own = ownCases(knowledge, join(root, 'knowledge', 'causes'));
const real = realCases(knowledge, join(root, 'test', 'cases', 'real-cases.yaml'));
const problems = [...own.problems, ...real.problems];
const parts = {
  real: part(real.cases),
  own: part(own.cases.filter((item) => !item.byAuthor)),
  byAuthor: part(own.cases.filter((item) => item.byAuthor)),
};

const described = (name: string) => {
  const { cases, problems: found } = realCases(knowledge, join(root, 'test', 'intake', name));
  problems.push(...found);
  return cases;
};
const words = wordsFigures(openEngine(knowledge, openLikeness(knowledge)), {
  real: real.cases,
  'real, odd ones': real.cases.filter((_, index) => index % 2 === 0),
  'real, even ones': real.cases.filter((_, index) => index % 2 === 1),
  'descriptions, seen': described('descriptions.yaml'),
  'descriptions, held out': described('descriptions-held-out.yaml'),
});

function percent(share: number): string {
  return `${Math.round(share * 100)} %`.padStart(5);
}

function line(name: string, { interview, stated }: Measured): string {
  const shown = (f: Figures) =>
    `${percent(f.first)} ${percent(f.firstThree)} ${percent(f.firstFive)}  ${f.logLoss.toFixed(2)}  ${f.brier.toFixed(2)}  ${f.calibrationError.toFixed(3)}`;
  return `${name.padEnd(19)} ${String(interview.cases).padStart(4)}  ${shown(interview)}  ${String(interview.medianAsked).padStart(3)} ${String(interview.medianAnswered).padStart(3)}   ${shown(stated)}`;
}

function table(title: string, { json }: ReturnType<typeof part>): string[] {
  const { interview } = json;
  const interval = ([low, high]: readonly [number, number]) =>
    `${Math.round(low * 100)} to ${Math.round(high * 100)} %`;
  return [
    `${title}`,
    `${''.padEnd(19)}       interview                                          everything stated`,
    `${''.padEnd(19)}    n  first  in 3  in 5  loss brier  calib  ask ans   first  in 3  in 5  loss brier  calib`,
    ...Object.entries(json.families).map(([family, figures]) => line(family, figures)),
    ...Object.entries(json.qualities).map(([quality, figures]) => line(`quality ${quality}`, figures)),
    line('all', json),
    `interview, 95 % interval: first ${interval(interview.firstInterval)}, in three ${interval(interview.firstThreeInterval)}`,
    `calibration, mean chance and share true by bin: ${interview.bins.map((bin) => (bin.count === 0 ? '-' : `${bin.meanChance.toFixed(2)} ${bin.hitRate.toFixed(2)} (${bin.count})`)).join(', ')}`,
    `expected minutes: by the plan ${Math.round(interview.expectedMinutes)}, by trying the most usual first ${Math.round(interview.minutesByUsual)}`,
    '',
  ];
}

const text = asJson
  ? JSON.stringify(
      {
        version: 1,
        real: parts.real.json,
        own: parts.own.json,
        byAuthor: parts.byAuthor.json,
        fromWords: words,
        problems,
      },
      null,
      2,
    )
  : [
      ...table('Real prints from public reports', parts.real),
      ...wordsLines(words, parts.real.json.interview),
      ...missLines(engine, parts.real.runs, Number.POSITIVE_INFINITY),
      ...table('Written prints, by somebody who saw names and cards but no numbers', parts.own),
      ...missLines(engine, parts.own.runs, 12),
      ...table('Written prints, by the authors of the links', parts.byAuthor),
      `${problems.length} problems in the case files`,
    ].join('\n');
process.stdout.write(`${text}\n`);
for (const problem of problems)
  process.stderr.write(`${problem.file}:${problem.line}: ${problem.message}; ${problem.help}\n`);
