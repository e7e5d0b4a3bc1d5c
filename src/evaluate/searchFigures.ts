import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { SearchKind } from '../intake/searchEntries.ts';
import type { KnowledgeBase } from '../knowledge/knowledgeBase.ts';
import { loadKnowledge } from '../knowledge/load.ts';
import { parseYaml } from '../knowledge/parse.ts';
import { realCases } from './labelled.ts';
import { type Ranker, searchRankers } from './searchRankers.ts';

/** How well a ranker found what was wanted. */
export interface SearchFigures {
  readonly queries: number;
  /** Shares of the queries with a wanted entry at the first place, or among the first three or five. */
  readonly first: number;
  readonly firstThree: number;
  readonly firstFive: number;
  /** Mean of one over the place of the first wanted entry; 0 where it was not found. */
  readonly meanReciprocalRank: number;
}

export interface SearchQuery {
  readonly say: string;
  /** Any of these will do. */
  readonly want: readonly string[];
  readonly in: SearchKind;
  /** How it is worded: short, typo, colloquial, long, other_trade. */
  readonly wording: string;
  /** Odd-numbered queries were seen while the words of the entries were widened; even-numbered ones were not. */
  readonly half: 'seen' | 'held out' | 'cases';
}

interface RawQuery {
  readonly say: string;
  readonly kind: string;
  readonly want?: readonly string[];
  readonly want_cause?: readonly string[];
  readonly want_fix?: readonly string[];
}

export function readQueries(file: string): SearchQuery[] {
  const { value } = parseYaml(readFileSync(file, 'utf8'), file);
  return (value as readonly RawQuery[]).map((raw, index) => ({
    say: raw.say,
    want: raw.want ?? raw.want_cause ?? raw.want_fix ?? [],
    in: raw.want ? 'symptom' : raw.want_cause ? 'cause' : 'fix',
    wording: raw.kind,
    half: index % 2 === 0 ? 'seen' : 'held out',
  }));
}

/** The free words of real cases; wanted is the complaint, or any symptom that the words alone state. */
export function caseQueries(knowledge: KnowledgeBase, file: string): SearchQuery[] {
  return realCases(knowledge, file).cases.flatMap(({ read }) => {
    const { says, 'in-words': inWords } = read.raw as {
      says?: unknown;
      'in-words'?: { symptoms?: Record<string, unknown> };
    };
    const want = [
      ...(read.case.complaint === undefined ? [] : [read.case.complaint]),
      ...Object.keys(inWords?.symptoms ?? {}),
    ];
    return typeof says === 'string' && want.length > 0
      ? [{ say: says, want, in: 'symptom' as const, wording: 'case', half: 'cases' as const }]
      : [];
  });
}

export function figuresFor(queries: readonly SearchQuery[], ranker: Ranker): SearchFigures {
  const places = queries.map(({ say, want, in: kind }) => {
    const at = ranker(say, kind).findIndex((id) => want.includes(id));
    return at < 0 ? Number.POSITIVE_INFINITY : at + 1;
  });
  const within = (most: number) => places.filter((place) => place <= most).length / places.length;
  return {
    queries: queries.length,
    first: within(1),
    firstThree: within(3),
    firstFive: within(5),
    meanReciprocalRank: places.reduce((sum, place) => sum + 1 / place, 0) / places.length,
  };
}

/** `npm run evaluate -- --search [--json]`: free-text search, by group of queries and by ranker. */
export function searchReport(root: string, asJson: boolean): string {
  const { knowledge } = loadKnowledge({ shipped: join(root, 'knowledge'), local: [] });
  const queries = [
    ...readQueries(join(root, 'test', 'search', 'queries.yaml')),
    ...caseQueries(knowledge, join(root, 'test', 'cases', 'real-cases.yaml')),
  ];
  const groups = new Map<string, SearchQuery[]>();
  for (const query of queries) {
    const names =
      query.half === 'cases'
        ? ['words of real cases']
        : [
            `${query.in}, ${query.half}`,
            ...(query.in === 'symptom' ? [`  ${query.wording}, ${query.half}`] : []),
          ];
    for (const name of names) groups.set(name, [...(groups.get(name) ?? []), query]);
  }
  const rankers = Object.entries(searchRankers(knowledge));
  const rows = [...groups].map(([name, list]) => ({
    name: name.trim(),
    shown: name,
    figures: Object.fromEntries(rankers.map(([ranker, rank]) => [ranker, figuresFor(list, rank)])),
  }));
  if (asJson)
    return JSON.stringify(
      { version: 1, groups: rows.map(({ name, figures }) => ({ name, figures })) },
      null,
      2,
    );
  const order = (name: string) =>
    ['symptom', 'cause', 'fix', 'words', '  '].findIndex((start) => name.startsWith(start));
  const percent = (share: number) => `${Math.round(share * 100)}`.padStart(3);
  const cell = (f: SearchFigures) =>
    `${percent(f.first)} ${percent(f.firstThree)} ${percent(f.firstFive)} ${f.meanReciprocalRank.toFixed(2)}`;
  return [
    'Free-text search: percent first, in the first 3, in the first 5; mean reciprocal rank',
    `${''.padEnd(24)}    n  ${rankers.map(([name]) => name.padEnd(18)).join('')}`.trimEnd(),
    ...rows
      .sort((a, b) => order(a.shown) - order(b.shown) || (a.shown < b.shown ? -1 : 1))
      .map(({ shown, figures }) => {
        const cells = rankers.map(([name]) => cell(figures[name]!).padEnd(18));
        const { queries: count } = figures['ours']!;
        return `${shown.padEnd(24)} ${String(count).padStart(4)}  ${cells.join('')}`.trimEnd();
      }),
  ].join('\n');
}
