import { decimalMark, figure } from '../../words/figures.ts'

/** How the value is written. `places` is the resolution that is read: 1 means tenths. */
export interface Form {
  places: number
  negative?: boolean | undefined
  /** `time`: digits fill from the right, as minutes and seconds (`1257` is 12:57). `date`: day, month and year, from the left. */
  shape?: 'number' | 'time' | 'date' | undefined
  /** Digits before the mark, at most. */
  most?: number | undefined
  /** What may stand after the mark, where not every decimal can be read: a caliper's halves, a tape's quarters. */
  fractions?: readonly string[] | undefined
}

export type PadKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | 'mark' | 'minus' | 'remove' | 'clear'

/** What stands on the display after one more key. A key that does not fit changes nothing: the display says what was read, or nothing. */
export function press(typed: string, key: PadKey, form: Form): string {
  if (key === 'clear') return ''
  if (key === 'remove') return typed.slice(0, -1)
  if (key === 'minus') return !form.negative ? typed : typed.startsWith('-') ? typed.slice(1) : `-${typed}`
  if (key === 'mark') {
    if (form.shape === 'time' || form.places === 0 || typed.includes('.')) return typed
    return typed === '' || typed === '-' ? `${typed}0.` : `${typed}.`
  }
  if (form.shape === 'date') return typed.length < 8 ? typed + key : typed
  if (form.shape === 'time') return typed.length < 4 + form.places ? (typed === '' && key === '0' ? '' : typed + key) : typed
  const [whole = '', decimals] = typed.replace('-', '').split('.')
  if (decimals !== undefined) return decimals.length < form.places && canBeRead(decimals + key, form) ? typed + key : typed
  if (whole.length >= (form.most ?? 4)) return typed
  return whole === '0' ? typed.slice(0, -1) + key : typed + key
}

const canBeRead = (decimals: string, { fractions }: Form): boolean => !fractions || fractions.some((one) => one.startsWith(decimals))

/** The value as an integer in the resolution read: 38.0 with one place is 380; a date is 19970511. Nothing while nothing readable stands there. */
export function amountOf(typed: string, form: Form): number | undefined {
  if (form.shape === 'time') return typed === '' ? undefined : timeAmount(typed, form.places)
  if (form.shape === 'date') return dateAmount(typed)
  if (!/\d/.test(typed)) return undefined
  const [whole = '', decimals = ''] = typed.replace('-', '').split('.')
  const amount = Number(whole + decimals.padEnd(form.places, '0'))
  return typed.startsWith('-') && amount !== 0 ? -amount : amount
}

/** What the display says, with the mark of the screen's language and exactly as much as was typed. */
export function shown(typed: string, form: Form): string {
  if (form.shape === 'date') {
    const digits = [...typed].map((digit) => figure(Number(digit)))
    const part = (from: number, to: number) => Array.from({ length: to - from }, (_, at) => digits[from + at] ?? '–').join('')
    return [part(0, 2), part(2, 4), part(4, 8)].join(' / ')
  }
  if (form.shape === 'time') {
    const digits = typed.padStart(3 + form.places, '0')
    const decimals = form.places > 0 ? decimalMark() + inFigures(digits.slice(-form.places)) : ''
    const rest = form.places > 0 ? digits.slice(0, -form.places) : digits
    return `${inFigures(rest.slice(0, -2))}:${inFigures(rest.slice(-2))}${decimals}`
  }
  return [...typed].map((sign) => (sign === '.' ? decimalMark() : sign === '-' ? '−' : figure(Number(sign)))).join('')
}

/** An amount as the display would say it, in full: 380 with one place is `38.0`. */
export function written(amount: number, form: Form): string {
  if (form.shape === 'time') {
    const seconds = Math.trunc(amount / 10 ** form.places)
    const decimals = String(amount % 10 ** form.places).padStart(form.places, '0')
    return shown(`${Math.floor(seconds / 60)}${String(seconds % 60).padStart(2, '0')}${form.places > 0 ? decimals : ''}`, form)
  }
  return figure(amount / 10 ** form.places, form.places).replace('-', '−')
}

/** 1257 is 12 minutes 57 seconds; 90 seconds typed as 090 or 130 are the same time. */
function timeAmount(typed: string, places: number): number {
  const digits = typed.padStart(3 + places, '0')
  const decimals = places > 0 ? Number(digits.slice(-places)) : 0
  const rest = places > 0 ? digits.slice(0, -places) : digits
  return (Number(rest.slice(0, -2)) * 60 + Number(rest.slice(-2))) * 10 ** places + decimals
}

/** Nothing until the eight digits are a day that there was. */
function dateAmount(typed: string): number | undefined {
  const [day, month, year] = [Number(typed.slice(0, 2)), Number(typed.slice(2, 4)), Number(typed.slice(4))]
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0
  return typed.length === 8 && day >= 1 && day <= days && year >= 1900 ? year * 10_000 + month * 100 + day : undefined
}

const inFigures = (digits: string) => [...digits].map((digit) => figure(Number(digit))).join('')
