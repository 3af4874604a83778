/** A time of day as it is written on a sheet, `9:05` or `9:05:30`, at the site on that date; and how far it may be off. */
export function writtenAt(text: string, date: string, utcOffsetMinutes: number): { at: number; bandMs: number } | null {
  const [, hours, minutes, seconds] = /^\s*(\d{1,2})[:.](\d{2})(?:[:.](\d{2}))?\s*$/.exec(text) ?? []
  if (!hours || !minutes || Number(hours) > 23 || Number(minutes) > 59 || Number(seconds ?? 0) > 59) return null
  const midnight = Date.parse(`${date}T00:00:00Z`) - utcOffsetMinutes * 60_000
  const at = midnight + Number(hours) * 3_600_000 + Number(minutes) * 60_000
  // Written to the minute, it was somewhere in that minute.
  return seconds === undefined ? { at: at + 30_000, bandMs: 30_000 } : { at: at + Number(seconds) * 1_000, bandMs: 1_000 }
}

/** Times since the gun as they stand in a row, `1:58 3:59.5 12:09`, in ms. Null: one of them is none, or they do not grow. */
export function lapsWritten(text: string): number[] | null {
  const laps = text
    .trim()
    .split(/[\s;,]+/)
    .map((lap) => {
      const [, minutes, seconds, tenths] = /^(\d{1,2}):(\d{2})(?:\.(\d))?$/.exec(lap) ?? []
      return minutes && seconds && Number(seconds) < 60
        ? Number(minutes) * 60_000 + Number(seconds) * 1_000 + Number(tenths ?? 0) * 100
        : NaN
    })
  return laps.length > 0 && laps.every((lap, index) => lap > (laps[index - 1] ?? 0)) ? laps : null
}
