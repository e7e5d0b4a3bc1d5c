import { requireFinite, requireLength, requirePositive, requireRange } from './domain.ts';
import { GAS_CONSTANT, ZERO_C_IN_K } from './units.ts';

/** First zeros of the Bessel function J0 (published: Abramowitz, Stegun 1964, table 9.5). */
const FIRST_ZEROS = [2.4048255577, 5.5200781103, 8.6537279129, 11.7915344391, 14.9309177086];

/** Below this the short-time expansion is exact to 1e-10, above it 40 terms of the series are. */
const SHORT_TIME = 0.001;
const TERMS = 40;

// McMahon's expansion (Abramowitz, Stegun 9.5.12); from the sixth zero on it is exact to 1e-10.
function laterZero(n: number): number {
  const b = 8 * (n - 0.25) * Math.PI;
  return b / 8 + 1 / b - 124 / (3 * b ** 3) + 120_928 / (15 * b ** 5) - 401_743_168 / (105 * b ** 7);
}

const SQUARED_ZEROS: readonly number[] = Array.from({ length: TERMS }, (_, index) => {
  const zero = FIRST_ZEROS[index] ?? laterZero(index + 1);
  return zero * zero;
});

// Inverse Laplace transform of the large-argument expansion of I1/I0: Crank's short-time series carried three terms
// further, since the series in J0's zeros converges ever more slowly as x falls.
function shortTimeShare(x: number): number {
  const root = Math.sqrt(x);
  const rootPi = Math.sqrt(Math.PI);
  return (
    (4 * root) / rootPi -
    x -
    (x * root) / (3 * rootPi) -
    x ** 2 / 8 -
    (5 * x ** 2 * root) / (24 * rootPi) -
    (13 * x ** 3) / 96
  );
}

/**
 * Share of its final water a round strand has taken up, or of the surplus it has given off: 0 to 1.
 * @param x diffusion x time / radius^2, no unit; 0 to 1e12
 * Valid: constant diffusion coefficient, surface at once in balance with the air. Source: published, Crank 1975,
 * chapter 5 (series from memory, re-derived). Agreement: within 1e-10.
 */
export function sorptionShare(x: number): number {
  requireRange('x', x, '', 0, 1e12);
  if (x < SHORT_TIME) return shortTimeShare(x);
  let left = 0;
  for (const square of SQUARED_ZEROS) left += (4 / square) * Math.exp(-square * x);
  return 1 - left;
}

/**
 * Diffusion coefficient at another temperature, m2/s: D23 exp(-(Ea / R) (1/T - 1/296.15)).
 * @param d23 diffusion coefficient at 23 degC, m2/s; above 0
 * @param activationKJ activation energy, kJ/mol; 0 to 200
 * @param tempC temperature, degC; -60 to 300
 * Valid: within one state of the plastic, not across its glass transition. Source: Arrhenius law. Agreement: exact law;
 * D and Ea themselves are the least certain figures of any plastic, so carry their whole range.
 */
export function diffusionAt(d23: number, activationKJ: number, tempC: number): number {
  requirePositive('d23', d23, 'm2/s');
  requireRange('activationKJ', activationKJ, 'kJ/mol', 0, 200);
  requireRange('tempC', tempC, 'degC', -60, 300);
  const inverse = 1 / (tempC + ZERO_C_IN_K) - 1 / (23 + ZERO_C_IN_K);
  return requireFinite(
    'diffusionAt',
    d23 * Math.exp(((-activationKJ * 1000) / GAS_CONSTANT) * inverse),
    'm2/s',
  );
}

const secondsPerSquaredRadius = (diffusionM2S: number, diameterMm: number): number => {
  requirePositive('diffusionM2S', diffusionM2S, 'm2/s');
  requireLength('diameterMm', diameterMm);
  return requireFinite('radius^2 / D', (diameterMm * 0.5e-3) ** 2 / diffusionM2S, 's');
};

/**
 * Share of its final water one exposed strand takes up, or of its surplus it loses, in a time: 0 to 1.
 * @param diffusionM2S diffusion coefficient at that temperature, m2/s; above 0
 * @param hours time, h; 0 to 1e9
 * @param diameterMm filament diameter, mm; above 0, default 1.75
 * Valid and source: as `sorptionShare`. Inner turns of a spool lag by days (common practice). Agreement: the curve is
 * exact, the time only as good as D: show "about A to B", never a single figure.
 */
export function waterShareAfter(diffusionM2S: number, hours: number, diameterMm = 1.75): number {
  requireRange('hours', hours, 'h', 0, 1e9);
  const x = (hours * 3600) / secondsPerSquaredRadius(diffusionM2S, diameterMm);
  return sorptionShare(Math.min(x, 1e12));
}

// Bisects the root of x, in which the curve starts straight, so that tiny shares keep their digits.
function sorptionTime(share: number): number {
  let low = 0;
  let high = 3;
  for (let step = 0; step < 200; step++) {
    const middle = (low + high) / 2;
    if (sorptionShare(middle ** 2) < share) low = middle;
    else high = middle;
  }
  return high ** 2;
}

/**
 * Hours until one exposed strand has reached a share of its final water, or lost that share of its surplus.
 * @param share share wanted; 0 to 0.999999
 * @param diffusionM2S diffusion coefficient at that temperature, m2/s; above 0
 * @param diameterMm filament diameter, mm; above 0, default 1.75
 * Valid, source and agreement: as `waterShareAfter`, of which it is the inverse. Drying stops where the warm air's
 * humidity stops it: the share left is about oven humidity over room humidity.
 */
export function hoursToShare(share: number, diffusionM2S: number, diameterMm = 1.75): number {
  requireRange('share', share, '', 0, 0.999999);
  return (sorptionTime(share) * secondsPerSquaredRadius(diffusionM2S, diameterMm)) / 3600;
}

/**
 * Water in one exposed strand that was dry to begin with, % by mass.
 * @param equilibriumPercentAt50 water the plastic holds in balance with air at 23 degC and 50 %, % by mass; 0 to 100
 * @param humidityPercent relative humidity of the air, %; 0 to 100
 * @param diffusionM2S diffusion coefficient, m2/s; above 0
 * @param hours time in that air, h; 0 to 1e9
 * @param diameterMm filament diameter, mm; above 0, default 1.75
 * Valid: straight isotherm (water held in proportion to humidity): fair to about 70 %, too low above. Source: derived
 * from `waterShareAfter`. Agreement: as good as D and the equilibrium figure; carry their whole range.
 */
export function waterPercentAfter(
  equilibriumPercentAt50: number,
  humidityPercent: number,
  diffusionM2S: number,
  hours: number,
  diameterMm = 1.75,
): number {
  requireRange('equilibriumPercentAt50', equilibriumPercentAt50, '%', 0, 100);
  requireRange('humidityPercent', humidityPercent, '%', 0, 100);
  return equilibriumPercentAt50 * (humidityPercent / 50) * waterShareAfter(diffusionM2S, hours, diameterMm);
}
