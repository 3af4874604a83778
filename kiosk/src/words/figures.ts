/** How figures, ages and clocks are written. They follow the language of the screen, never that of the machine. */

let spoken = 'en'
let fromTheRight = false

/** Western digits on keys and values in every language: gauges, bibs and watches at the site show them. */
const locale = (): string => (spoken === 'ar' ? 'ar-u-nu-latn' : spoken)

/** Told by `words.ts` when the language of the screen changes. */
export function writeFiguresIn(next: string, direction: 'ltr' | 'rtl' = 'ltr'): void {
  spoken = next
  fromTheRight = direction === 'rtl'
}

/** From the left, whatever stands around it: in a line from the right a time, a bib or a sign would change places otherwise. */
export const isolated = (text: string): string => (fromTheRight ? `\u2066${text}\u2069` : text)

const kept = new Map<string, unknown>()

/** Formatters are dear to make and asked for at every redraw. */
function keep<Format>(name: string, make: () => Format): Format {
  const key = `${locale()} ${name}`
  if (!kept.has(key)) kept.set(key, make())
  return kept.get(key) as Format
}

/** A count in words: `#` stands for the number; which form applies is the language's own rule. */
export function count(n: number, forms: { other: string } & Partial<Record<Intl.LDMLPluralRule, string>>): string {
  const form = forms[keep('plural', () => new Intl.PluralRules(locale())).select(n)] ?? forms.other
  return form.replaceAll('#', figure(n))
}

/** A number with the decimal mark and digits of the screen's language. */
export function figure(n: number, places?: number): string {
  const format = keep(
    `figure ${places}`,
    () =>
      new Intl.NumberFormat(locale(), {
        useGrouping: false,
        ...(places !== undefined && { minimumFractionDigits: places, maximumFractionDigits: places }),
      }),
  )
  return n < 0 ? isolated(format.format(n).replaceAll('\u200e', '')) : format.format(n)
}

/** The decimal mark of the screen's language: a point or a comma. */
export function decimalMark(): string {
  return keep('mark', () => new Intl.NumberFormat(locale()).formatToParts(1.5).find(({ type }) => type === 'decimal')?.value ?? '.')
}

/** As a reader of the language abbreviates second, minute and hour. */
const units: Record<string, { s: string; min: string; h: string }> = {
  en: { s: 's', min: 'min', h: 'h' },
  ar: { s: 'ث', min: 'د', h: 'س' },
}

/** An age or a wait in one glance: `8 s`, `4 min`, `2 h 05 min`. Rounds down: an age never looks older than it is to the next minute. */
export function shortDuration(milliseconds: number): string {
  const { s, min, h } = units[spoken] ?? units['en']!
  const seconds = Math.max(0, Math.floor(milliseconds / 1000))
  if (seconds < 60) return `${figure(seconds)} ${s}`
  const minutes = Math.floor(seconds / 60)
  if (minutes < 60) return `${figure(minutes)} ${min}`
  return `${figure(Math.floor(minutes / 60))} ${h} ${String(minutes % 60).padStart(2, '0')} ${min}`
}

/** How far a clock is off: `−0.40 s`, `+12 min`. What is behind stands below zero. */
export function clockOff(milliseconds: number): string {
  const { s } = units[spoken] ?? units['en']!
  if (Math.abs(milliseconds) < 60_000) return isolated(`${figure(milliseconds / 1000, 2)} ${s}`)
  return isolated(`${milliseconds < 0 ? '−' : '+'}${shortDuration(Math.abs(milliseconds))}`)
}

/** A measured time: `17.42`, `2:06.00`, `12:57`. `places` says how many decimals of a second were read (0, 1 or 2). */
export function raceTime(hundredths: number, places: 0 | 1 | 2 = 2): string {
  const whole = Math.floor(hundredths / 100)
  const minutes = Math.floor(whole / 60)
  const seconds = minutes > 0 ? String(whole % 60).padStart(2, '0') : figure(whole)
  const rest = String(hundredths % 100)
    .padStart(2, '0')
    .slice(0, places)
  return isolated(`${minutes > 0 ? `${figure(minutes)}:` : ''}${seconds}${places > 0 ? decimalMark() + rest : ''}`)
}

/** The clock on the wall of the site, in the site's own time zone. */
export function wallClock(epochMilliseconds: number, zone: string, withSeconds = false): string {
  const format = keep(
    `clock ${zone} ${withSeconds}`,
    () =>
      new Intl.DateTimeFormat(locale(), {
        hour: '2-digit',
        minute: '2-digit',
        hourCycle: 'h23',
        timeZone: zone,
        ...(withSeconds && { second: '2-digit' }),
      }),
  )
  return isolated(format.format(epochMilliseconds))
}

/** A date as people at the site write it: day, month in letters, year. */
export function longDate(epochMilliseconds: number, zone: string): string {
  return keep(
    `date ${zone}`,
    () => new Intl.DateTimeFormat(locale(), { day: 'numeric', month: 'long', year: 'numeric', timeZone: zone }),
  ).format(epochMilliseconds)
}

/** 4:40 min: an age whose seconds matter. */
export function minutesAndSeconds(milliseconds: number): string {
  const seconds = Math.max(0, Math.floor(milliseconds / 1000))
  const { min } = units[spoken] ?? units['en']!
  return `${figure(Math.floor(seconds / 60))}:${String(seconds % 60).padStart(2, '0')} ${min}`
}
