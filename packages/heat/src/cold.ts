// Cold as a hold kind, in whole tenths of a degree of wind chill. Source: US National Weather Service.

/** About -18 °F: skin may freeze within 30 minutes. */
export const frostbiteWithin30MinutesTenthsDegC = -278

/** Does a wind chill call for a cold hold? Both in tenths of a degree Celsius; the site sets the figure, and it is included. */
export const coldCallsForHold = (windChillTenthsDegC: number, holdAtTenthsDegC: number) => windChillTenthsDegC <= holdAtTenthsDegC
