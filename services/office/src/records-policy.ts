import type { RecordsPolicy } from '@musterbook/vocabulary/records'

/** Invented, for the demonstration, but for the 45 days to let somebody inspect: 34 CFR 99.10(b). */
export const demoRecordsPolicy: RecordsPolicy = {
  id: 'RP-1',
  edition: 'invented, 1',
  source: 'Invented for the Skarnvale Mountain Rescue Academy; 45 days to inspect as in 34 CFR 99.10(b)',
  answerDays: { inspect: 45, amend: 30, dispute: 14 },
  keepYears: { record: 6, medical: 10 },
  leastShown: 5,
  measurementErrors: [],
}
