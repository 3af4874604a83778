// Cold as a hold kind, in whole tenths of a degree of wind chill. Source: US National Weather Service.

/** About -18 °F: skin may freeze within 30 minutes. */
export const frostbiteWithin30MinutesTenthsDegC = -278

/** When a site holds for cold: at this wind chill and below it. */
export interface ColdRules {
  readonly holdAtTenthsDegC: number
}

/** Does a wind chill, tenths of a degree Celsius, call for a cold hold? */
export const coldCallsForHold = (windChillTenthsDegC: number, rules: ColdRules) => windChillTenthsDegC <= rules.holdAtTenthsDegC

/** A cold hold is lifted on a new observation, taken after the raise, that would not raise it again. */
export const coldMayLift = (observation: { windChillTenthsDegC: number; observedAt: number }, raisedAt: number, rules: ColdRules) =>
  observation.observedAt > raisedAt && !coldCallsForHold(observation.windChillTenthsDegC, rules)
