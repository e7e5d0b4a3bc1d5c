import { type Run, rankOf } from './simulate.ts';

export interface Labelled {
  readonly name: string;
  readonly family: string;
  /** The established cause, and others that would be as right. */
  readonly truth: readonly string[];
  readonly run: Run;
}

export interface Bin {
  readonly from: number;
  readonly count: number;
  readonly meanChance: number;
  readonly hitRate: number;
}

export interface Figures {
  readonly cases: number;
  readonly first: number;
  readonly firstThree: number;
  readonly firstFive: number;
  /** 95 % interval of the share that came first. */
  readonly firstInterval: readonly [number, number];
  readonly firstThreeInterval: readonly [number, number];
  /** Sum over causes and "other" of (chance - truth)^2, mean over cases; 0 is perfect, 2 the worst. */
  readonly brier: number;
  /** Mean of -ln(chance of the truth), chances below 1e-6 counted as 1e-6. */
  readonly logLoss: number;
  /** Expected calibration error over the chances of the three first causes of each case, in five equal bins. */
  readonly calibrationError: number;
  readonly bins: readonly Bin[];
  readonly medianAsked: number;
  readonly medianAnswered: number;
  readonly expectedMinutes: number;
  readonly minutesByUsual: number;
}

export function bestRank({ truth, run }: Labelled): number {
  const ranks = truth.map((cause) => rankOf(run, cause)).filter((rank) => rank > 0);
  return ranks.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...ranks);
}

export function figuresOf(cases: readonly Labelled[]): Figures {
  const n = cases.length;
  const within = (most: number) => cases.filter((item) => bestRank(item) <= most).length;
  const { bins, error } = calibration(cases);
  return {
    cases: n,
    first: within(1) / n,
    firstThree: within(3) / n,
    firstFive: within(5) / n,
    firstInterval: wilson(within(1), n),
    firstThreeInterval: wilson(within(3), n),
    brier: mean(cases.map(brierOf)),
    logLoss: mean(cases.map((item) => -Math.log(Math.max(1e-6, chanceOfTruth(item))))),
    calibrationError: error,
    bins,
    medianAsked: median(cases.map((item) => item.run.asked)),
    medianAnswered: median(cases.map((item) => item.run.answered)),
    expectedMinutes: mean(cases.map((item) => item.run.expectedMinutes)),
    minutesByUsual: mean(cases.map((item) => item.run.minutesByUsual)),
  };
}

/** Score interval for a share (Wilson, J. Am. Stat. Assoc. 22, 1927). */
export function wilson(hits: number, n: number, z = 1.959964): [number, number] {
  if (n === 0) return [0, 1];
  const p = hits / n;
  const centre = p + (z * z) / (2 * n);
  const half = z * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
  const scale = 1 + (z * z) / n;
  return [(centre - half) / scale, (centre + half) / scale];
}

function chanceOfTruth({ truth, run }: Labelled): number {
  return run.causes.filter((entry) => truth.includes(entry.id)).reduce((sum, entry) => sum + entry.chance, 0);
}

/** The causes that count as right are taken together as one. */
function brierOf(item: Labelled): number {
  const right = chanceOfTruth(item);
  const wrong = item.run.causes.filter((entry) => !item.truth.includes(entry.id));
  return (
    (1 - right) ** 2 + item.run.otherChance ** 2 + wrong.reduce((sum, entry) => sum + entry.chance ** 2, 0)
  );
}

/** Five equal bins; a chance on a border belongs to the upper one. */
export function calibrationOf(pairs: readonly { readonly chance: number; readonly hit: boolean }[]) {
  const groups = Array.from({ length: 5 }, (): { chance: number; hit: boolean }[] => []);
  // 0.6 * 5 is a hair under 3 in doubles; borders are meant, not their last digit.
  for (const pair of pairs) groups[Math.min(4, Math.floor(pair.chance * 5 + 1e-9))]!.push(pair);
  const bins = groups.map((group, index) => ({
    from: index / 5,
    count: group.length,
    meanChance: mean(group.map((pair) => pair.chance)),
    hitRate: mean(group.map((pair) => Number(pair.hit))),
  }));
  const error = bins.reduce(
    (sum, bin) =>
      sum + (bin.count === 0 ? 0 : (bin.count / pairs.length) * Math.abs(bin.meanChance - bin.hitRate)),
    0,
  );
  return { bins, error };
}

function calibration(cases: readonly Labelled[]) {
  return calibrationOf(
    cases.flatMap(({ run, truth }) =>
      run.causes.slice(0, 3).map((entry) => ({ chance: entry.chance, hit: truth.includes(entry.id) })),
    ),
  );
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  if (sorted.length === 0) return 0;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
