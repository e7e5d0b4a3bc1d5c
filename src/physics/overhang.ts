import { requireAbove, requireBetween, requireFinite, requireLength, requireRange } from './domain.ts';

const RADIANS = Math.PI / 180;

// tan(90 degrees) is a huge number, not infinity, in floating point; a vertical wall steps out by exactly nothing.
const cotangent = (angleDeg: number): number => (angleDeg === 90 ? 0 : 1 / Math.tan(angleDeg * RADIANS));

const requireFaceAngle = (name: string, angleDeg: number): void => requireAbove(name, angleDeg, 'deg', 0, 90);

/**
 * How far each layer steps out beyond the one below on a leaning face, mm: h / tan(angle).
 * @param angleDeg face angle from the horizontal plate, degrees; above 0, at most 90 (a vertical wall)
 * @param layerHeightMm layer height, mm; above 0
 * Valid: plane or gently curved faces, outer line; not for bridges, which are held at both ends.
 * Source: derived, plain geometry. Agreement: exact.
 */
export function overhangStepMm(angleDeg: number, layerHeightMm: number): number {
  requireFaceAngle('angleDeg', angleDeg);
  requireLength('layerHeightMm', layerHeightMm);
  return requireFinite('overhangStepMm', layerHeightMm * cotangent(angleDeg), 'mm');
}

/**
 * Share of the new line that lies over the line below: 1 on a vertical wall, 0 or less when it lands on nothing.
 * @param angleDeg face angle from horizontal, degrees; above 0, at most 90
 * @param layerHeightMm layer height, mm; above 0
 * @param lineWidthMm line width, mm; above 0
 * Valid: as `overhangStepMm`. Source: derived, 1 - step / width. Agreement: exact; the share that still prints is
 * trade habit (common practice: 0.2 with good cooling, 0.5 for a clean surface).
 */
export function lineOverlap(angleDeg: number, layerHeightMm: number, lineWidthMm: number): number {
  requireLength('lineWidthMm', lineWidthMm);
  return requireFinite('lineOverlap', 1 - overhangStepMm(angleDeg, layerHeightMm) / lineWidthMm, '');
}

/**
 * Face angle from horizontal at which lines overlap by the share asked, degrees: atan(h / (w (1 - overlap))).
 * @param overlap share of the line over the one below; -1e6 to 1 (1 gives 90 degrees)
 * @param layerHeightMm layer height, mm; above 0
 * @param lineWidthMm line width, mm; above 0
 * Valid: as `overhangStepMm`. Source: derived; inverse of `lineOverlap`. Agreement: exact.
 */
export function angleForOverlapDeg(overlap: number, layerHeightMm: number, lineWidthMm: number): number {
  requireRange('overlap', overlap, '', -1e6, 1);
  requireLength('layerHeightMm', layerHeightMm);
  requireLength('lineWidthMm', lineWidthMm);
  return Math.atan2(layerHeightMm, lineWidthMm * (1 - overlap)) / RADIANS;
}

/**
 * Thickest layer that gives the overlap asked on a face, mm: w (1 - overlap) tan(angle).
 * @param overlap share of the line over the one below; above -1e6, below 1
 * @param angleDeg face angle from horizontal, degrees; above 0, below 90 (a vertical wall takes any layer)
 * @param lineWidthMm line width, mm; above 0
 * Valid: as `overhangStepMm`; the answer may be thinner than the printer can lay. Source: derived; inverse of
 * `lineOverlap`. Agreement: exact.
 */
export function layerHeightForOverlapMm(overlap: number, angleDeg: number, lineWidthMm: number): number {
  requireBetween('overlap', overlap, '', -1e6, 1);
  requireBetween('angleDeg', angleDeg, 'deg', 0, 90);
  requireLength('lineWidthMm', lineWidthMm);
  return lineWidthMm * (1 - overlap) * Math.tan(angleDeg * RADIANS);
}

// Plan run of the edge for each unit of height. This form, unlike the one with a difference of squares, never falls
// below the run of either face through rounding.
function edgeRun(angle1Deg: number, angle2Deg: number, planAngleDeg: number): number {
  requireFaceAngle('angle1Deg', angle1Deg);
  requireFaceAngle('angle2Deg', angle2Deg);
  requireBetween('planAngleDeg', planAngleDeg, 'deg', 0, 180);
  const steeper = cotangent(Math.max(angle1Deg, angle2Deg));
  const flatter = cotangent(Math.min(angle1Deg, angle2Deg));
  const plan = planAngleDeg * RADIANS;
  return Math.hypot(flatter, (steeper - flatter * Math.cos(plan)) / Math.sin(plan));
}

/**
 * Elevation of the edge line where two overhanging faces meet, degrees from horizontal; never above either face.
 * @param angle1Deg angle of one face from horizontal, degrees; above 0, at most 90
 * @param angle2Deg angle of the other face, degrees; above 0, at most 90
 * @param planAngleDeg angle in plan between the directions the faces lean to, degrees; above 0, below 180. It is 180
 *   minus the plan corner of the part: 90 for a square corner.
 * Valid: plane faces. At an outside corner this edge curls first; at an inside corner plastic stands on both sides, so
 * treat it as no worse than the faces. Source: derived; the same geometry as a roof hip. Agreement: exact; published
 * carpentry tables agree within 0.005 degrees.
 */
export function compoundEdgeAngleDeg(angle1Deg: number, angle2Deg: number, planAngleDeg: number): number {
  return Math.atan2(1, edgeRun(angle1Deg, angle2Deg, planAngleDeg)) / RADIANS;
}

/**
 * How far the edge between two overhanging faces steps out with each layer, mm.
 * @param angle1Deg angle of one face from horizontal, degrees; above 0, at most 90
 * @param angle2Deg angle of the other face, degrees; above 0, at most 90
 * @param planAngleDeg angle in plan between the directions of lean, degrees; above 0, below 180
 * @param layerHeightMm layer height, mm; above 0
 * Valid and source: as `compoundEdgeAngleDeg`. Agreement: exact.
 */
export function edgeStepMm(
  angle1Deg: number,
  angle2Deg: number,
  planAngleDeg: number,
  layerHeightMm: number,
): number {
  requireLength('layerHeightMm', layerHeightMm);
  return requireFinite('edgeStepMm', layerHeightMm * edgeRun(angle1Deg, angle2Deg, planAngleDeg), 'mm');
}
