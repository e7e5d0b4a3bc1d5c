import { noisyOr } from './build.ts';

/** Three causes, three findings: a worked example whose figures come from full enumeration in rational arithmetic. */
export const threeByThree = noisyOr(
  [0.1, 0.05, 0.2],
  [0.02, 0.01, 0.05],
  [
    [0.8, 0.3, 0],
    [0.4, 0.9, 0.1],
    [0, 0.2, 0.6],
  ],
);
