import { describe, expect, it } from 'vitest';
import { formulas, MOST_ARGUMENTS } from '../../src/knowledge/formulas.ts';
import { unitAliases, units } from '../../src/knowledge/units.ts';
import { numberOf } from './expressionScope.ts';

/**
 * One figure for each function, to hold the order of its arguments and its units. Worked by hand from the formula in
 * its docstring unless a source is named; the physics itself is tested under `test/physics`.
 */
const worked: readonly (readonly [string, string, number, number])[] = [
  ['line_overlap', 'line_overlap(45 deg, 0.2 mm, 0.4 mm)', 0.5, 1e-9],
  ['angle_for_overlap', 'angle_for_overlap(0.75, 0.1 mm, 0.4 mm)', 45, 1e-9],
  ['layer_height_for_overlap', 'layer_height_for_overlap(0.75, 45 deg, 0.4 mm)', 0.1, 1e-9],
  // The hip of a roof that slopes 45 degrees both ways: tan = 1 / sqrt 2.
  ['compound_edge_angle', 'compound_edge_angle(45 deg, 45 deg, 90 deg)', 35.2644, 1e-4],
  ['shrink_strain', 'shrink_strain(90 1e-6/K, 105 degC, 25 degC)', 0.0072, 1e-9],
  ['lift_energy', 'lift_energy(2 GPa, 0.01, 10 mm)', 1000, 1e-9],
  ['wall_waviness', 'wall_waviness(1 mm, 20 mm, wall_strain_of_one)', 1, 1e-3],
  ['thickness_for_waviness', 'thickness_for_waviness(0.25, 20 mm, wall_strain_of_one)', 2, 1e-3],
  ['wall_bend', 'wall_bend(1 N, 10 mm, 20 mm, 1 mm, 2 GPa)', 0.1, 1e-9],
  ['pin_bend', 'pin_bend(1 N, 10 mm, 2 mm, 2 GPa)', 0.212207, 1e-5],
  ['flow', 'flow(0.45 mm, 0.2 mm, 60 mm/s)', 5.4, 1e-9],
  ['speed_for_flow', 'speed_for_flow(8 mm3/s, 0.4 mm, 0.2 mm)', 100, 1e-9],
  ['melt_capacity', 'melt_capacity(20 mm, 5.8e-8 m2/s)', 10.911, 1e-3],
  ['diffusivity', 'diffusivity(0.13 W/(m K), 1240 kg/m3, 1800 J/(kg K))', 5.8244e-8, 1e-4],
  ['film_coefficient', 'film_coefficient(50 percent)', 50, 1e-9],
  ['layer_time', 'layer_time(100 mm2, 0.4 mm, 50 mm/s)', 5, 1e-9],
  // 1240 x 1800 x 2e-8 m3 x 155 K = 6.919 J; 100 W/(m2 K) x 220e-6 m2 x 30 K = 0.66 W.
  [
    'shortest_layer_time',
    'shortest_layer_time(1240 kg/m3, 1800 J/(kg K), 210 degC, 55 degC, 25 degC, 100 percent, 100 mm2, 0.2 mm)',
    10.4836,
    1e-4,
  ],
  // 0.7 x (2.40528 x 600 / 3000 + 0.048).
  ['pressure_lag', 'pressure_lag(600 mm, 3 GPa)', 0.370339, 1e-5],
  ['stored_length', 'stored_length(600 mm, 3 GPa)', 1.09978, 1e-4],
  ['flow_ramp', 'flow_ramp(60 mm/s, 0.05 s)', 3, 1e-9],
  ['speed_ramp', 'speed_ramp(100 mm/s, 1000 mm/s2)', 5, 1e-9],
  ['smallest_detail', 'smallest_detail(60 mm/s, 0.05 s, 0.5)', 4.5, 1e-9],
  ['water_after', 'water_after(0.5 percent, 100 percent, 1e-9 m2/s, 1000 h, 1.75 mm)', 1, 1e-9],
  // A cylinder has taken up half at D t / a^2 = 0.0631 (Crank, The Mathematics of Diffusion, chapter 5; from memory).
  ['hours_to_share', 'hours_to_share(0.5, 1e-12 m2/s, 1.75 mm)', 13.42, 1e-2],
  ['steam_ratio', 'steam_ratio(0.1 percent, 200 degC, 1240 kg/m3)', 2.672, 1e-3],
  // Published psychrometric tables: 25 degC at 60 % condenses at 16.7 degC.
  ['dew_point', 'dew_point(25 degC, 60 percent)', 16.7, 5e-3],
  // Steam tables: saturation at 20 degC 23.39 hPa, at 40 degC 73.84 hPa.
  ['humidity_after_heating', 'humidity_after_heating(20 degC, 50 percent, 40 degC)', 15.84, 1e-2],
  // Published tables: saturated air at 20 degC holds 17.3 g/m3.
  ['absolute_humidity', 'absolute_humidity(20 degC, 100 percent)', 17.3, 5e-3],
  ['box_rise', 'box_rise(100 W, 2 m2, 5 W/(m2 K), 0.5 m3, 1 1/h)', 9.8353, 1e-4],
];

// k pi^2 / (12 (1 - nu^2)) (t / b)^2 with k 1.277, nu 0.36, t / b = 1 / 20: the strain at which that wall just buckles.
const strainOfOne = '0.0030167';

describe('functions of expressions', () => {
  it.each(worked)('%s', (_, text, result, tolerance) => {
    const value = numberOf(text.replace('wall_strain_of_one', strainOfOne));
    expect(Math.abs(value! / result - 1)).toBeLessThan(tolerance);
  });

  it('are all worked here', () => {
    expect(worked.map(([name]) => name).sort()).toEqual([...formulas.keys()].sort());
  });

  it('take units that convert', () => {
    expect(numberOf('flow_ramp(60 mm/s, 0.001 min)')).toBeCloseTo(3.6, 12);
    expect(numberOf('lift_energy(2000 MPa, 0.01, 0.01 m)')).toBeCloseTo(1000, 9);
    expect(numberOf('hours_to_share(0.5, 1e-12 m2/s, 1.75 mm)', {}, { expectedUnit: 'min' })).toBeCloseTo(
      60 * numberOf('hours_to_share(0.5, 1e-12 m2/s, 1.75 mm)')!,
      9,
    );
  });

  it('are described, and take no more than the evaluator passes', () => {
    for (const formula of formulas.values()) {
      expect(formula.about.length).toBeGreaterThan(10);
      expect(formula.args.length).toBeGreaterThan(0);
      expect(formula.args.length).toBeLessThanOrEqual(MOST_ARGUMENTS);
      for (const { name } of formula.args) expect(name).toMatch(/^[a-z0-9 ]+$/);
      expect(units.has(formula.name) || unitAliases.has(formula.name)).toBe(false);
    }
  });
});
