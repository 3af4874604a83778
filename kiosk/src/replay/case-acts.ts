import type { caseActs } from '@musterbook/vocabulary/case'
import { officeActs, type OfficeActName } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import type { Outcome } from '../live/api.ts'
import { showWhat } from '../shell/shell.tsx'

type Name = Extract<OfficeActName, keyof typeof caseActs>

/** Tells the office something about a case and shows what came of it. */
export const tellCase = (house: House, what: string, act: Name, body: object): Promise<Outcome<Record<string, string>>> =>
  showWhat(house, what, house.api.post(`/api/office/${officeActs[act].noun}`, { envelope: house.api.stamp(), body })) as Promise<
    Outcome<Record<string, string>>
  >

/** Does the role of whoever is signed on include this act of a case? The site asks it again. */
export const mayCase = (house: House, act: Name): boolean => {
  const roles: readonly string[] = house.session.value?.person?.roles ?? []
  return officeActs[act].roles.some((role) => roles.includes(role))
}
