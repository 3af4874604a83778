import type { StationForm } from '../station/form.ts'

/** When it happened, as it is written; ± how far that may be off. */
export interface Written {
  at: number
  bandMs: number
}

/** A time of day as it is written on a sheet, `9:05` or `9:05:30`, at the site on that date; and how far it may be off. */
export function writtenAt(text: string, date: string, utcOffsetMinutes: number): Written | null {
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

/** A number as it is written, in the unit of the station; nothing where it is none. */
export function amountIn(typed: string, form: Pick<StationForm, 'places' | 'amountOf'>): number | null {
  const [, minutes, number] = /^\s*(?:(\d{1,2}):)?(-?\d+(?:[.,]\d+)?)\s*$/.exec(typed) ?? []
  if (!number) return null
  const amount = form.amountOf(Math.round((Number(minutes ?? 0) * 60 + Number(number.replace(',', '.'))) * 10 ** form.places))
  return Number.isInteger(amount) ? amount : null
}
