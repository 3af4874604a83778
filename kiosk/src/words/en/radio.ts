export const radio = {
  contact: 'Contact with the site',
  contactOld: 'The hold state cannot be confirmed. Radio the safety officer.',
  safetyOfficer: 'Safety officer',

  open: 'Record a radio confirmation',
  openDetail: 'The way on without contact',
  title: 'What came over the radio?',
  helpWave: 'Radio the safety officer and ask whether a hold is in force. Their word covers this wave alone, and no other.',
  helpStation: 'Radio the safety officer and ask whether a hold is in force. Their word covers this station alone.',
  who: 'Who gave the word',
  whoBlank: 'Choose who',
  whoMissing: 'Name who answered the radio.',
  words: 'Their words',
  wordsHint: 'As they were said. For example: no hold in force at the track.',
  wordsMissing: 'Write what was said.',
  period: (minutes: number) =>
    `It counts for ${minutes} min from now. The time is taken as you record it; who recorded it stands beside it.`,
  save: 'Record it',
  told: 'Radio confirmation',
  covers: (who: string, until: string) => `Word of ${who} over the radio, counts until ${until}`,
}
