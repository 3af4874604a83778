import { getPosition } from 'suncalc'

/** Where the sun stands over a place. */
export interface Sun {
  /** Cosine of the angle from straight up, with the air's refraction; below zero when the sun is down. */
  readonly cosZenith: number
  /** Distance in mean distances of the earth. */
  readonly distance: number
}

/**
 * The sun over a place at an instant.
 *
 * Source: Meeus, Astronomical Algorithms, chapter 25 (in suncalc); the distance by the low-precision formula of the
 * Astronomical Almanac, good to 0.0001.
 */
export function sunOver(place: { latitudeDegNorth: number; longitudeDegEast: number }, epochMs: number): Sun {
  // suncalc asks its date for its milliseconds and nothing else, and the core makes no dates of its own.
  const instant = { valueOf: () => epochMs } as Date
  const { altitude } = getPosition(instant, place.latitudeDegNorth, place.longitudeDegEast)
  return { cosZenith: Math.sin(altitude * radian), distance: distanceOf(epochMs) }
}

const radian = Math.PI / 180
const dayMs = 86_400_000
/** Noon of 1 January 2000. */
const j2000Ms = 946_728_000_000

function distanceOf(epochMs: number): number {
  const anomaly = (357.528 + 0.9856003 * ((epochMs - j2000Ms) / dayMs)) * radian
  return 1.00014 - 0.01671 * Math.cos(anomaly) - 0.00014 * Math.cos(2 * anomaly)
}
