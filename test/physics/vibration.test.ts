import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  naturalFrequencyFromSagHz,
  naturalFrequencyHz,
  padStiffnessNPerM,
  staticSagMm,
  swingsPerS,
  transmissibility,
} from '../../src/physics/vibration.ts';
import { expectShown, expectWithin } from './expectShown.ts';

describe('mass on soft pads', () => {
  it('sag 25 mm, shake of 25 Hz, damping 0.05: 3.15 Hz, ratio 7.93, 0.0206 (published calculator example)', () => {
    const natural = naturalFrequencyFromSagHz(25);
    expectShown(natural, '3.15');
    // Computed beforehand with standard gravity, 9.80665 m/s2, where 9.81 stands here.
    expectWithin(natural, 3.152, 3e-4);
    expectShown(25 / natural, '7.93');
    expectShown(transmissibility(25, natural, 0.05), '0.0206');
  });

  it('15.76 over the root of the sag (published form)', () => {
    expectShown(naturalFrequencyFromSagHz(1), '15.76');
  });

  it('24 kg on four foam pads of 50 x 50 x 20 mm (modulus assumed; computed beforehand)', () => {
    const stiffness = padStiffnessNPerM(0.1, 4 * 2500, 20);
    expectShown(stiffness, '5.0e4');
    expectShown(staticSagMm(stiffness, 24), '4.71');
    expectShown(naturalFrequencyHz(stiffness, 24), '7.26');
  });

  it('the same foam under the whole slab is 16 times stiffer (computed beforehand)', () => {
    const stiffness = padStiffnessNPerM(0.1, 400 * 400, 20);
    expectWithin(stiffness, 16 * 5e4, 1e-12);
    expectShown(naturalFrequencyHz(stiffness, 24), '29.1');
  });

  it.each([
    [0.1, ['1.86', '5.10', '0.33', '0.173', '0.051']],
    [0.2, ['1.75', '2.69', '0.39', '0.22', '0.082']],
  ])('passes at 5, 7.26, 15, 20, 40 Hz with damping %d (computed beforehand)', (damping, shown) => {
    const natural = naturalFrequencyHz(5e4, 24);
    const passed = [5, natural, 15, 20, 40].map((hz) => transmissibility(hz, natural, damping));
    expect(passed).toHaveLength(shown.length);
    for (const [index, entry] of shown.entries()) expectShown(passed[index]!, entry);
  });

  it('a bed at 100 mm/s over 20 mm turns 2.5 times a second (computed beforehand)', () => {
    expect(swingsPerS(100, 20)).toBe(2.5);
  });

  it('helps only above 1.414 times the natural frequency; both ways to that frequency agree', () => {
    const damping = fc.double({ min: 0.01, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 20, noNaN: true }), damping, (r, z) => {
        fc.pre(Math.abs(r - Math.SQRT2) > 1e-6);
        expect(transmissibility(r * 7, 7, z) < 1).toBe(r > Math.SQRT2);
      }),
    );
    expectWithin(naturalFrequencyFromSagHz(staticSagMm(5e4, 24)), naturalFrequencyHz(5e4, 24), 1e-12);
  });

  it('refuses undamped resonance', () => {
    expect(() => transmissibility(7, 7, 0)).toThrow(RangeError);
  });
});
