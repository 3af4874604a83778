import { canonical } from '@musterbook/evidence/canonical'
import { type OfficeRefusal, officeRefusal } from '@musterbook/vocabulary/office-refusals'

/**
 * Two people had the same thing open and the other one saved first: the later save is refused, with what is different now. `seen`: as the
 * screen showed it, null for what was not there; undefined where a screen does not say.
 */
export function changedSince(now: object | null, seen: object | null | undefined): { refused: OfficeRefusal } | undefined {
  if (seen === undefined || canonical(now) === canonical(seen)) return undefined
  if (now === null) return officeRefusal('changedMeanwhile', { what: 'it is gone' })
  if (seen === null) return officeRefusal('changedMeanwhile', { what: 'somebody else has added it' })
  const fields = Object.entries(now).filter(
    ([name, value]) => canonical(value) !== canonical((seen as Record<string, unknown>)[name] ?? null),
  )
  return officeRefusal('changedMeanwhile', { what: fields.map(([name, value]) => `${spaced(name)} is now ${said(value)}`).join(', ') })
}

const spaced = (name: string): string => name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)

function said(value: unknown): string {
  if (value === null) return 'not given'
  if (Array.isArray(value)) return value.length === 0 ? 'empty' : value.map(said).join(' and ')
  return typeof value === 'object' ? Object.values(value).map(said).join(' ') : String(value)
}
