import { words } from './words.ts'

/** What a hold covers: a zone by the site's own name, or all that is outdoors, in the language of the screen. */
export const overZone = ({ zone, zoneId }: { zone: string; zoneId: string | null }): string =>
  zoneId === null ? words.raiseHold.wholeSite : zone
