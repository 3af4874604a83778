// Source of the formulas and their limits: the 2001 wind chill of the US National Weather Service and Environment Canada.
// Computed once, when the air is told, and kept in tenths: a power’s last bit differs between engines.

/** Wind chill, °F; nothing above 50 °F or at 3 mph and less, where it is not defined. */
export function windChillDegF(airDegF: number, windMph: number): number | undefined {
  if (airDegF > 50 || windMph <= 3) return undefined
  const wind = windMph ** 0.16
  return 35.74 + 0.6215 * airDegF - 35.75 * wind + 0.4275 * airDegF * wind
}

/** Wind chill, °C, from wind at 10 m; nothing above 10 °C or below 4.8 km/h (3 mph), where it is not defined. */
export function windChillDegC(airDegC: number, wind10mKmPerH: number): number | undefined {
  if (airDegC > 10 || wind10mKmPerH < 4.8) return undefined
  const wind = wind10mKmPerH ** 0.16
  return 13.12 + 0.6215 * airDegC - 11.37 * wind + 0.3965 * airDegC * wind
}
