// ISO 7726: a globe settles where what it takes up by radiation is what the air carries off. A small globe stands nearer
// the air and reads low in sun and wind, so a 150 mm equivalent needs the air speed; no fixed factor exists.

const stefanBoltzmann = 5.67e-8
const zeroCelsiusK = 273.15

export interface Globe {
  readonly globeDegC: number
  readonly dryBulbDegC: number
  readonly airSpeedMPerS: number
  readonly diameterM: number
  /** 0.95 for matt black. */
  readonly emissivity: number
}

/**
 * Mean radiant temperature, °C, from a globe. Not a number where the globe is so far below the air that no radiation
 * could explain it.
 *
 * Source: ISO 7726; the stronger of natural and forced convection carries the heat.
 */
export function meanRadiantDegC({ globeDegC, dryBulbDegC, airSpeedMPerS, diameterM, emissivity }: Globe): number {
  const above = globeDegC - dryBulbDegC
  const carriedOff = (convection(above, airSpeedMPerS, diameterM) * above) / (emissivity * stefanBoltzmann)
  return ((globeDegC + zeroCelsiusK) ** 4 + carriedOff) ** 0.25 - zeroCelsiusK
}

/** What a 150 mm globe would read in the same place, °C: the one with the same mean radiant temperature. Never entered as a reading. */
export function globe150mmDegC(globe: Globe): number {
  const wanted = meanRadiantDegC(globe)
  if (!Number.isFinite(wanted)) return Number.NaN
  // Not a number counts as below: so cold a globe would have surroundings colder than anything.
  const isBelow = (globeDegC: number) => !(meanRadiantDegC({ ...globe, globeDegC, diameterM: 0.15 }) >= wanted)
  // A globe stands between the air and its surroundings, and the higher it reads, the hotter they are.
  let [low, high] = [Math.min(globe.dryBulbDegC, wanted), Math.max(globe.dryBulbDegC, wanted)]
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2
    if (isBelow(middle)) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** W/m²K. */
function convection(above: number, airSpeedMPerS: number, diameterM: number): number {
  const natural = 1.4 * (Math.abs(above) / diameterM) ** 0.25
  const forced = (6.3 * airSpeedMPerS ** 0.6) / diameterM ** 0.4
  return Math.max(natural, forced)
}
