import type { StationResult } from '@musterbook/day/results'
import type { Language } from '@musterbook/vocabulary/people'

export type SheetLanguage = Language

export const stateWords: Record<StationResult['state'], string> = {
  none: 'not tried',
  provisional: 'provisional',
  underReview: 'under review',
  final: 'final',
  notCounted: 'not counted',
  interrupted: 'interrupted',
}

/** Clock times of the site. */
export function timeAt(timeZone: string): (at: number) => string {
  const format = new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit' })
  return (at) => format.format(at)
}
