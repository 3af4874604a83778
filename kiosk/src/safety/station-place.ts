import { keepText } from '../house/kept-text.ts'
import { placeAsked, type Typed } from './estimate-form.ts'

type Place = Pick<Typed, (typeof placeAsked)[number]>

const key = 'musterbook.weatherStation'

/** Where the weather station stands, as typed once on this device and kept through restarts. */
export function placeKept(): Place | undefined {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? 'null') as Partial<Place> | null
    if (!kept || placeAsked.some((asked) => typeof kept[asked] !== 'string')) return undefined
    return kept as Place
  } catch {
    return undefined
  }
}

export const keepPlace = ({ latitude, longitude, pressure }: Place): void =>
  keepText(key, JSON.stringify({ latitude, longitude, pressure }))
