import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openEngine } from '../dialogue/engine.ts';
import { loadKnowledge } from '../knowledge/load.ts';
import { bestRank, type Figures, figuresOf, type Labelled } from './figures.ts';
import { type LabelledCase, ownCases, realCases } from './labelled.ts';
import { runInterview, runWhole } from './simulate.ts';

/** `npm run evaluate [-- --json] [-- --misses]`: labelled cases through the engine, and how well it did. */
const root = fileURLToPath(new URL('../../', import.meta.url));
const asJson = process.argv.includes('--json');

interface Part {
  readonly whole: Figures;
  readonly interview: Figures;
  readonly families: Readonly<Record<string, { whole: Figures; interview: Figures }>>;
  readonly runs: readonly {
    name: string;
    family: string;
    truth: readonly string[];
    rank: number;
    rankAsked: number;
    first: string;
    asked: number;
  }[];
}

const { knowledge } = loadKnowledge({ shipped: join(root, 'knowledge'), local: [] });
const engine = openEngine(knowledge);

function evaluatePart(all: readonly LabelledCase[]): Part {
  const counted = all.filter((item) => item.read.expectation.expect !== 'not-first');
  const runs = counted.map((item) => {
    const base = { name: item.name, family: item.family, truth: item.truth };
    const whole: Labelled = { ...base, run: runWhole(engine, item.read.case) };
    const interview: Labelled = {
      ...base,
      run: runInterview(engine, item.read.case, knowledge.weights.questions),
    };
    return { whole, interview };
  });
  const families = [...new Set(counted.map((item) => item.family))].sort();
  const figures = (list: typeof runs) => ({
    whole: figuresOf(list.map((run) => run.whole)),
    interview: figuresOf(list.map((run) => run.interview)),
  });
  return {
    ...figures(runs),
    families: Object.fromEntries(
      families.map((family) => [family, figures(runs.filter((run) => run.whole.family === family))]),
    ),
    runs: runs.map(({ whole, interview }) => ({
      name: whole.name,
      family: whole.family,
      truth: whole.truth,
      rank: bestRank(whole),
      rankAsked: bestRank(interview),
      first: whole.run.causes[0]?.id ?? 'none',
      asked: interview.run.asked,
    })),
  };
}

const own = ownCases(knowledge, join(root, 'knowledge', 'causes'));
const real = realCases(knowledge, join(root, 'test', 'cases', 'real-cases.yaml'));
const problems = [...own.problems, ...real.problems];
const result = { real: evaluatePart(real.cases), own: evaluatePart(own.cases) };

function percent(share: number): string {
  return `${Math.round(share * 100)} %`.padStart(5);
}

function line(name: string, { whole, interview }: { whole: Figures; interview: Figures }): string {
  const show = (f: Figures) =>
    `${percent(f.first)} ${percent(f.firstThree)} ${percent(f.firstFive)}  ${f.logLoss.toFixed(2)}  ${f.brier.toFixed(2)}  ${f.calibrationError.toFixed(3)}`;
  return `${name.padEnd(22)} ${String(whole.cases).padStart(4)}  ${show(whole)}   ${show(interview)}  ${interview.medianAsked} (${interview.medianAnswered})`;
}

function show(title: string, part: Part): string[] {
  return [
    `${title}: everything stated at once | asked and answered (median asked, answered)`,
    `${''.padEnd(22)}    n  first  in 3  in 5  loss brier  calib   first  in 3  in 5  loss brier  calib`,
    ...Object.entries(part.families).map(([family, figures]) => line(family, figures)),
    line('all', part),
    ...part.runs
      .filter((run) => run.rank > 1)
      .map(
        (run) =>
          `  missed: ${run.name}: ${run.truth.join(' or ') || 'not in the base'} at ${run.rank} (asked ${run.rankAsked}); first was ${run.first}`,
      ),
    '',
  ];
}

const text = asJson
  ? JSON.stringify({ version: 1, ...result, problems }, null, 2)
  : [
      ...show('real', result.real),
      ...show('own', result.own),
      `${problems.length} problems in the case files`,
    ].join('\n');
process.stdout.write(`${text}\n`);
for (const problem of problems)
  process.stderr.write(`${problem.file}:${problem.line}: ${problem.message}; ${problem.help}\n`);
