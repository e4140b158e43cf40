/** What stands wherever readings are shown: in the README, in every report, in the program's about box. */
export const cautions = [
  'Readings support and never replace an evaluation by qualified personnel to the written procedure.',
  'The code in force and the responsible Level III decide.',
  'A calibration that fails a check means re-examination, not adjustment of the record.',
] as const;
