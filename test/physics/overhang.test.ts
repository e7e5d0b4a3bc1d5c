import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  angleForOverlapDeg,
  compoundEdgeAngleDeg,
  edgeStepMm,
  layerHeightForOverlapMm,
  lineOverlap,
  overhangStepMm,
} from '../../src/physics/overhang.ts';
import { expectShown } from './expectShown.ts';

const atanDeg = (slope: number) => (Math.atan(slope) * 180) / Math.PI;
const angle = fc.double({ min: 1, max: 90, noNaN: true });
const height = fc.double({ min: 0.02, max: 2, noNaN: true });
const width = fc.double({ min: 0.1, max: 3, noNaN: true });
const plan = fc.double({ min: 1, max: 179, noNaN: true });

describe('step and overlap of a leaning face', () => {
  it.each([
    [45, 0.2, 0.45, '0.2000', '0.5556'],
    [30, 0.2, 0.45, '0.3464', '0.2302'],
    [60, 0.2, 0.45, '0.1155', '0.7434'],
    [45, 0.28, 0.45, '0.2800', '0.3778'],
    [30, 0.12, 0.45, '0.2078', '0.5381'],
    [20, 0.2, 0.45, '0.5495', '-0.2211'],
  ])('%d deg, %d mm on %d mm (computed beforehand from plain geometry)', (theta, h, w, step, overlap) => {
    expectShown(overhangStepMm(theta, h), step);
    expectShown(lineOverlap(theta, h, w), overlap);
  });

  it('finds the angles of no and of half overlap (computed beforehand)', () => {
    expectShown(angleForOverlapDeg(0, 0.2, 0.45), '23.96');
    expectShown(angleForOverlapDeg(0.5, 0.2, 0.45), '41.63');
  });

  it('a vertical wall does not step at all', () => {
    expect(overhangStepMm(90, 0.2)).toBe(0);
    expect(lineOverlap(90, 0.2, 0.45)).toBe(1);
    expect(angleForOverlapDeg(1, 0.2, 0.45)).toBe(90);
  });

  it('thinner layers and wider lines never lower the overlap', () => {
    fc.assert(
      fc.property(angle, height, width, fc.double({ min: 0.1, max: 1, noNaN: true }), (a, h, w, share) => {
        expect(lineOverlap(a, h * share, w)).toBeGreaterThanOrEqual(lineOverlap(a, h, w));
        expect(lineOverlap(a, h, w / share)).toBeGreaterThanOrEqual(lineOverlap(a, h, w));
      }),
    );
  });

  it('both inverses lead back', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 89, noNaN: true }), height, width, (a, h, w) => {
        const overlap = lineOverlap(a, h, w);
        expect(angleForOverlapDeg(overlap, h, w)).toBeCloseTo(a, 6);
        expect(layerHeightForOverlapMm(overlap, a, w)).toBeCloseTo(h, 6);
      }),
    );
  });
});

describe('edge where two overhanging faces meet', () => {
  it.each([
    [45, 45, 90, '35.264'],
    [45, 60, 90, '40.893'],
    [60, 60, 90, '50.768'],
    [30, 30, 90, '22.208'],
    [45, 45, 60, '40.893'],
    [45, 45, 120, '26.565'],
    [50, 50, 90, '40.121'],
    [54.7356, 54.7356, 90, '45.000'],
    [45, 90, 90, '45.000'],
  ])('%d and %d deg, %d deg in plan (computed beforehand)', (a1, a2, phi, edge) => {
    expectShown(compoundEdgeAngleDeg(a1, a2, phi), edge);
  });

  it.each([
    ['irregular hip, 8 and 10 in 12 (timber framing page)', 8 / 12, 10 / 12, 90, 27.498],
    ['octagon hip, 8 in 12 (carpentry geometry page)', 8 / 12, 8 / 12, 45, 31.62973],
    ['valley, 10 and 13 in 12 (carpentry geometry page)', 10 / 12, 13 / 12, 90, 33.44556],
  ])('agrees within 0.005 deg with a published roof: %s', (_name, slope1, slope2, phi, published) => {
    const edge = compoundEdgeAngleDeg(atanDeg(slope1), atanDeg(slope2), phi);
    expect(Math.abs(edge - published)).toBeLessThan(0.005);
  });

  it('steps 41 % more than its faces at a square corner of 45 deg faces (computed beforehand)', () => {
    expectShown(edgeStepMm(45, 45, 90, 0.2), '0.2828');
    expectShown(edgeStepMm(45, 45, 90, 0.2) / overhangStepMm(45, 0.2), '1.41');
  });

  it('is never steeper than either face, whatever the corner', () => {
    fc.assert(
      fc.property(angle, angle, plan, (a1, a2, phi) => {
        expect(compoundEdgeAngleDeg(a1, a2, phi)).toBeLessThanOrEqual(Math.min(a1, a2) + 1e-9);
      }),
    );
  });

  it('does not mind the order of the faces, and obeys tan e = tan a cos(phi / 2) for equal ones', () => {
    fc.assert(
      fc.property(angle, angle, plan, (a1, a2, phi) => {
        expect(compoundEdgeAngleDeg(a1, a2, phi)).toBe(compoundEdgeAngleDeg(a2, a1, phi));
        const half = Math.cos((phi * Math.PI) / 360);
        const equal = atanDeg(Math.tan((a1 * Math.PI) / 180) * half);
        expect(compoundEdgeAngleDeg(a1, a1, phi)).toBeCloseTo(equal, 6);
      }),
    );
  });
});
