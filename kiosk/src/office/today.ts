import type { House } from '../house/house.ts'

/** The civil date at the site, where a day says which; else that of this device. */
export const siteToday = (house: House): string =>
  new Intl.DateTimeFormat('en-CA', {
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    ...(house.day.value && { timeZone: house.day.value.timeZone }),
  }).format(house.clock.now.value)
