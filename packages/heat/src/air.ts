// Air quality as a hold kind. The index is taken from its publisher and never computed here: the breakpoints under it
// changed in 2024. Source: US EPA air quality index.

export type AirCategory = 'good' | 'moderate' | 'unhealthy for sensitive groups' | 'unhealthy' | 'very unhealthy' | 'hazardous'

const upTo: readonly (readonly [highest: number, category: AirCategory])[] = [
  [50, 'good'],
  [100, 'moderate'],
  [150, 'unhealthy for sensitive groups'],
  [200, 'unhealthy'],
  [300, 'very unhealthy'],
]

/** The category of an index. Throws below zero. */
export function airCategory(index: number): AirCategory {
  if (!(index >= 0)) throw new RangeError(`no air quality index: ${index}`)
  return upTo.find(([highest]) => index <= highest)?.[1] ?? 'hazardous'
}

/** From here on everyone should cut prolonged or heavy exertion outdoors. */
export const everyoneCutsExertionFrom = 151

/** Does an index call for an air hold? The site sets the figure; 151 is what the source says of everyone. */
export const airCallsForHold = (index: number, holdFrom: number) => index >= holdFrom
