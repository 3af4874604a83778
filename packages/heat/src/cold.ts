// Cold as a hold kind. Source of the formulas and their limits: the 2001 wind chill of the US National Weather Service and
// Environment Canada; frostbite is possible within 30 minutes at about -18 °F.

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

/** About -18 °F: skin may freeze within 30 minutes. */
export const frostbiteWithin30MinutesTenthsDegC = -278

/** Which policies of a site may hold for cold: at this wind chill and below it. */
export interface ColdRules {
  readonly holdAtTenthsDegC: number
}

/** Does a wind chill, tenths of a degree Celsius, call for a cold hold? */
export const coldCallsForHold = (windChillTenthsDegC: number, rules: ColdRules) => windChillTenthsDegC <= rules.holdAtTenthsDegC

/** A cold hold is lifted on a new observation, taken after the raise, that would not raise it again. */
export const coldMayLift = (observation: { windChillTenthsDegC: number; observedAt: number }, raisedAt: number, rules: ColdRules) =>
  observation.observedAt > raisedAt && !coldCallsForHold(observation.windChillTenthsDegC, rules)
