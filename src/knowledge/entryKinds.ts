/** The parts of the knowledge that hold entries by id. */
export const entryKinds = [
  'symptoms',
  'signs',
  'facts',
  'causes',
  'fixes',
  'materials',
  'cautions',
  'sources',
] as const;
