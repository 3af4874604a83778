import type { Doubt, Impossible, Remark } from './reading-checks.ts'

/** Each reason as one sentence to the person who holds the instrument. */
export const readingWords: Record<Impossible | Doubt | Remark, string> = {
  valueMissing: 'A value is missing that the formula needs.',
  dryBulbOutsideSensor: 'The dry bulb is outside -5 to 50 °C (23 to 122 °F).',
  wetBulbOutsideSensor: 'The wet bulb is outside -5 to 50 °C (23 to 122 °F).',
  globeOutsideSensor: 'The globe is outside -5 to 100 °C (23 to 212 °F).',
  wbgtOutsideSensor: 'The WBGT is outside what these sensors can give.',
  psychrometricWetBulbAboveDryBulb: 'An aspirated wet bulb cannot be above the dry bulb.',
  humidityOutsideRange: 'The humidity is outside 0 to 100 %.',
  dewPointAboveDryBulb: 'The dew point cannot be above the dry bulb.',
  looksLikeTheOtherUnit: 'These numbers only look right in the other unit. Which one does the instrument show?',
  wetBulbAboveDryBulb: 'The wet bulb is above the dry bulb. Is the wick wet, and is each value in its own field?',
  wickLooksDry: 'The wet bulb is on the dry bulb. Is the wick wet?',
  drierThanAirGets: 'The wet bulb is lower than very dry air would give. Please read it again.',
  globeBelowDryBulb: 'The globe is below the dry bulb. Does it stand in shade?',
  globeNearDryBulbInSun: 'The globe is hardly above the dry bulb. Is there really sun on it?',
  globeFarAboveDryBulbWithoutSun: 'The globe is well above the dry bulb. Is there really no sun on it?',
  globeVeryFarAboveDryBulb: 'The globe is more than 30 °C above the dry bulb. Please read it again.',
  jumpedSinceLastReading: 'It changed much since the last reading here. Please read it again.',
  notSettled: 'The instrument has not stood long enough to settle.',
  globeIsNot150mm: 'The globe is not a 150 mm one: a small globe reads low in sun and wind.',
  psychrometricInSunIsAnEstimate: 'An aspirated wet bulb in sun gives an estimate, and it errs low.',
}
