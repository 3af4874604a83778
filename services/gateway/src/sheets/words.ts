import type { Language } from '@musterbook/vocabulary/people'

export type SheetLanguage = Language

/** Clock times of the site. */
export function timeAt(timeZone: string): (at: number) => string {
  const format = new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit' })
  return (at) => format.format(at)
}
