import { actTable, type ActName } from '@musterbook/vocabulary/act-table'
import type { House } from './house.ts'

/** Does the role of whoever is signed on include this act? Asked of the one table; the site asks it again. */
export function may(house: House, act: ActName): boolean {
  const roles = house.session.value?.person?.roles ?? []
  return actTable[act].roles.some((role) => (roles as readonly string[]).includes(role))
}
