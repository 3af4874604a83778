import { signal } from '@preact/signals'
import type { Device } from '@musterbook/vocabulary/office'
import { shown, type House } from '../house/house.ts'

/** '#108 Sunniva Pell', as far as it is known here. */
export function whoIs(house: House, studentId: string, bib: string | null): string {
  const { name } = shown(house, studentId, bib)
  return bib && name !== `#${bib}` ? `#${bib} ${name}` : name
}

export const staffName = (house: House, personId: string | null): string =>
  personId === null ? '' : (house.staff.value.get(personId) ?? personId)

export const stationName = (house: House, stationId: string | null): string =>
  house.day.value?.stations.find((station) => station.stationId === stationId)?.name ?? stationId ?? ''

const devices = signal<ReadonlyMap<string, string> | undefined>(undefined)
let asked = false

/** What the office calls a device. Read once: names of devices do not change on a day. */
export function deviceNames(house: House): ReadonlyMap<string, string> {
  if (!asked) {
    asked = true
    void house.api.get<Device[]>('/api/office/devices').then((heard) => {
      asked = heard.said === 'recorded'
      if (heard.said === 'recorded') devices.value = new Map(heard.body.map(({ deviceId, name }) => [deviceId, name]))
    })
  }
  return devices.value ?? new Map()
}
export const deviceName = (house: House, deviceId: string): string => deviceNames(house).get(deviceId) ?? deviceId
