/** Why the record will not take a step towards release. */
export const refusalWords = {
  'already released': 'This spell has ended. A new one needs its own release.',
  'not allowed': 'Your role does not take this step for this unit.',
  'work not finished': 'Work on this unit is not finished.',
  'no work finished':
    'No work was finished in this spell. Certify that repair is not necessary, or finish a work order.',
  'already certified': 'A certificate stands. Later work or a failed proof would void it.',
  'proof failed': 'A reading since then is outside the proof limits.',
  'nothing said of what was checked': 'Say what was checked.',
  'not certified': 'No certificate of the repair stands.',
  'certificate void': 'The certificate is void: certify again.',
  'no proof': 'No proof reading stands.',
  'proof not fit': 'The reading cannot serve as proof.',
  'second sound reading owed': 'Repair not necessary needs two sound readings. One is owed.',
  'certifier may not release': 'You certified this repair. Another safety officer releases.',
  'prover may not release': 'You read or amended the proof. Another safety officer releases.',
  'role too new': 'A role less than 24 hours old cannot release.',
  'not signed in again': 'Sign in again to release.',
  'bulletin open': 'A do-not-drive bulletin is still open on this unit.',
  'clock not in doubt': 'The clock of this reading needs no acceptance.',
  'no such reading': 'No such reading belongs to this spell.',
  'no such driving': 'No such entry of driving belongs to this spell.',
  'acknowledged already': 'This driving is acknowledged already.',
  'nothing said of who drove': 'Say who drove it and why.',
  'no open spell':
    'This unit is not out of service, or it is out again for another cause: look again.',
} as const;

export type Refusal = keyof typeof refusalWords;
