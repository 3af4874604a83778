/**
 * The heat index, °F, as the printed table has it: the bare regression, in shade and light wind. For 80 °F and more; the
 * table prints whole degrees.
 *
 * Source: Rothfusz 1990, US National Weather Service.
 */
export function heatIndexTableDegF(dryBulbDegF: number, relativeHumidityPercent: number): number {
  const [t, r] = [dryBulbDegF, relativeHumidityPercent]
  return (
    -42.379 +
    2.04901523 * t +
    10.14333127 * r -
    0.22475541 * t * r -
    6.83783e-3 * t * t -
    5.481717e-2 * r * r +
    1.22874e-3 * t * t * r +
    8.5282e-4 * t * r * r -
    1.99e-6 * t * t * r * r
  )
}

/**
 * The heat index, °F, by the full published equation: a simple formula while that, taken together with the temperature,
 * stays below 80 °F, else the regression with its corrections for very dry and very damp air.
 *
 * Source: the heat index equation page of the US Weather Prediction Center.
 */
export function heatIndexDegF(dryBulbDegF: number, relativeHumidityPercent: number): number {
  const [t, r] = [dryBulbDegF, relativeHumidityPercent]
  const simple = 0.5 * (t + 61 + (t - 68) * 1.2 + r * 0.094)
  const together = (simple + t) / 2
  if (together < 80) return together
  return heatIndexTableDegF(t, r) + correction(t, r)
}

function correction(t: number, r: number): number {
  if (r < 13 && t >= 80 && t <= 112) return -((13 - r) / 4) * Math.sqrt((17 - Math.abs(t - 95)) / 17)
  if (r > 85 && t >= 80 && t <= 87) return ((r - 85) / 10) * ((87 - t) / 5)
  return 0
}

/** What a screen may show: nothing below 80 °F, where the published ways of averaging differ. */
export function heatIndexToShow(dryBulbDegF: number, relativeHumidityPercent: number): number | undefined {
  const index = heatIndexDegF(dryBulbDegF, relativeHumidityPercent)
  return dryBulbDegF < 80 || index < 80 ? undefined : index
}
