import type { GatewayParts } from './parts.ts'

/** The civil date at the site now. UTC while there is no site. */
export async function siteDate({ office, clock }: Pick<GatewayParts, 'office' | 'clock'>): Promise<string> {
  const site = await office.site()
  return new Intl.DateTimeFormat('en-CA', { timeZone: site?.timeZone ?? 'UTC', dateStyle: 'short' }).format(clock())
}
