import type { MinimumStandard } from './minimum-standard.ts'

/** What the demonstration academy asks at least: INVENTED, like its norms. Common practice in the trade is a line at the 70 mark in most age groups. */
export const demoStandard: MinimumStandard = {
  id: 'FX-1/minimum',
  edition: 'FX-1',
  source: 'Invented for the demonstration of this software',
  invented: true,
  rule: { kind: 'percentile', atLeast: 40 },
}
