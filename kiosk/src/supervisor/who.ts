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
