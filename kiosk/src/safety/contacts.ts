import { useEffect, useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import type { Contact } from './roll-call.ts'

type Told = Pick<Contact, 'deviceId' | 'name' | 'purpose' | 'stationId' | 'lastHeardAt'>

/** Names of the site's devices and when each was last heard, asked anew every few seconds. */
export function useContacts(house: House): readonly Contact[] {
  const [told, tell] = useState<readonly Told[]>([])
  const person = house.session.value?.person?.personId
  useEffect(() => {
    if (!person) return
    const ask = async () => {
      const heard = await house.api.get<Told[]>('/api/devices/contacts')
      if (heard.said === 'recorded') tell(heard.body)
    }
    void ask()
    const timer = setInterval(() => void ask(), 5_000)
    return () => clearInterval(timer)
  }, [person])

  const day = house.day.value
  const now = house.clock.now.value
  return told.map((device) => ({
    ...device,
    zoneId: day?.stations.find(({ stationId }) => stationId === device.stationId)?.zoneId ?? null,
    unreachable: device.lastHeardAt === null || now - device.lastHeardAt > (day?.contactAgeMs ?? 0),
  }))
}
