import type { Role } from '@musterbook/vocabulary/people'
import type { House } from '../house/house.ts'

/** Is somebody with one of these roles signed on here? What they may not do is not shown. */
export const may = (house: House, ...roles: readonly Role[]): boolean =>
  house.session.value?.person?.roles.some((role) => roles.includes(role)) ?? false
