// Lightning as a hold kind. Source: US National Weather Service and the athletic trainers' lightning statement: thunder
// heard, or a flash whose thunder follows within 30 seconds (about 6 miles), and everyone goes in; 30 minutes after the
// last one, and each one starts them anew.

/** A flash whose thunder takes longer is farther off than about 6 miles. */
export const flashToBangSeconds = 30

/** Does what was seen or heard call for a lightning hold? A flash without its thunder counts: nobody knows how far it was. */
export function lightningCallsForHold(observed: { kind: 'thunder' } | { kind: 'flash'; secondsToThunder?: number }): boolean {
  return observed.kind === 'thunder' || observed.secondsToThunder === undefined || observed.secondsToThunder <= flashToBangSeconds
}

/**
 * The earliest instant at which a lightning hold may be lifted: the wait after the latest thunder or flash, in whatever
 * order they were told. Nothing when none was observed: there is nothing to count from.
 */
export function earliestResume(observedAt: readonly number[], waitMinutes: number): number | undefined {
  return observedAt.length === 0 ? undefined : Math.max(...observedAt) + waitMinutes * 60_000
}
