import type { Beliefs } from '../inference/network.ts';

/** The chances that are shown: of each cause, and of several together or something unknown. */
export interface Chances {
  readonly causes: Float64Array;
  readonly other: number;
}

/**
 * Chances as they are shown. A posterior over causes whose links are worded with care comes out too modest: of the causes
 * given about 3 in 10, some 6 in 10 were true, in public reports and in written cases alike. Every chance is raised to one
 * power and the lot made to add up to 1 (temperature scaling: Guo et al., ICML 2017). The order stays as it is; the plan
 * is reckoned with the posterior itself.
 * @param sharpness power, above 0; 1 leaves the posterior as it is
 */
export function chancesOf({ responsible, other }: Beliefs, sharpness: number): Chances {
  const causes = Float64Array.from(responsible, (chance) => sharpen(chance, sharpness));
  const rest = sharpen(other, sharpness);
  const sum = causes.reduce((all, chance) => all + chance, rest);
  if (!(sum > 0)) return { causes, other: rest };
  return { causes: causes.map((chance) => chance / sum), other: rest / sum };
}

function sharpen(chance: number, sharpness: number): number {
  return chance > 0 ? chance ** sharpness : 0;
}
