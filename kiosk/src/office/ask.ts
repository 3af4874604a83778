import type { House } from '../house/house.ts'
import type { Outcome } from '../live/api.ts'
import { showWhat } from '../shell/shell.tsx'

/** Asks the office for one of its acts, and shows what came of it. */
export async function askOffice<Body = unknown>(
  house: House,
  what: string,
  noun: string,
  body: object,
  countersign?: { personId: string; pin: string },
): Promise<Body | undefined> {
  const told = house.api.post<Body>(`/api/office/${noun}`, { envelope: house.api.stamp(), body, ...(countersign && { countersign }) })
  const outcome = (await showWhat(house, what, told)) as Outcome<Body>
  return outcome.said === 'recorded' ? outcome.body : undefined
}
