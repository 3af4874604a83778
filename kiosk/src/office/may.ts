import { officeActs, type OfficeActName } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'

/** May whoever is signed on ask this of the office? What they may not do is not shown; the site asks again. */
export const mayAsk = (house: House, act: OfficeActName): boolean =>
  house.session.value?.person?.roles.some((role) => officeActs[act].roles.includes(role)) ?? false
