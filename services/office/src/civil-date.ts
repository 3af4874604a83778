/** The civil date of an instant in a time zone, 'YYYY-MM-DD'. Throws when there is no such zone. */
export const localDate = (epochMs: number, timeZone: string): string =>
  new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(epochMs)

/** The zone's offset from UTC at noon of a civil date, minutes: east is positive. */
export function utcOffsetMinutes(date: string, timeZone: string): number {
  const noon = Date.parse(`${date}T12:00:00Z`)
  const part = new Intl.DateTimeFormat('en-US', { timeZone, timeZoneName: 'longOffset' })
    .formatToParts(noon)
    .find(({ type }) => type === 'timeZoneName')
  const [, sign, hours, minutes] = /^GMT([+-])(\d{2}):(\d{2})/.exec(part?.value ?? '') ?? []
  return sign ? (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) : 0
}

export function isTimeZone(timeZone: string): boolean {
  try {
    localDate(0, timeZone)
    return true
  } catch {
    return false
  }
}
