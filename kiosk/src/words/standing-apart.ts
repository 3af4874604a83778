/** Hebrew, Arabic and their kin: letters that run from the right. */
const fromTheRight = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]/

/** A name from the right keeps its place in a sentence from the left, and the sentence its order (first-strong isolate, U+2068 … U+2069). */
export const apart = (text: string): string => (fromTheRight.test(text) && !text.startsWith('\u2068') ? `\u2068${text}\u2069` : text)

const made = new WeakMap<object, unknown>()

/**
 * The same words; what is put into a sentence stands apart in it. A language from the right does that sentence by sentence (`ar/line.ts`):
 * there names, bibs and figures in Latin letters are what runs the other way, and a key of a list could not be told from them.
 */
export function standingApart<Said>(said: Said): Said {
  if (typeof said === 'function')
    return kept(
      said,
      () =>
        (...put: unknown[]) =>
          said(...put.map(eachApart)),
    )
  return isRecord(said) ? kept(said, () => mapped(said, standingApart)) : said
}

const eachApart = (put: unknown): unknown =>
  typeof put === 'string' ? apart(put) : Array.isArray(put) ? put.map(eachApart) : isRecord(put) ? mapped(put, eachApart) : put

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype

const mapped = (record: Record<string, unknown>, each: (value: unknown) => unknown) =>
  Object.fromEntries(Object.entries(record).map(([key, value]) => [key, each(value)]))

/** Made once: words are read at every redraw. */
function kept<Said extends object>(said: Said, make: () => unknown): Said {
  if (!made.has(said)) made.set(said, make())
  return made.get(said) as Said
}
