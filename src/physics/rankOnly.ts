/**
 * Names of the functions whose results may order things (this plastic before that, thicker before thinner) but must
 * never reach the reader as numbers: an input nobody knows, or a model known to be wrong in size, stands behind each.
 */
export const RANK_ONLY = [
  'liftEnergyJPerM2',
  'filmLiftEnergyJPerM2',
  'layerBendRadiusM',
  'layerDeflectionMm',
  'bimetalCurvaturePerM',
  'edgeMomentN',
  'brimWidthForMomentMm',
  'brimReachMm',
  'stripBucklingStrain',
  'plateBucklingFactor',
  'plateBucklingStrain',
  'wallWaviness',
  'thicknessForWavinessMm',
  'oozeVolumeMm3',
  'stringVolumeMm3',
  'tautSagMm',
  'slackSagMm',
  'coldClampedSagMm',
  'coldSupportedSagMm',
] as const;
