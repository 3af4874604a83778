/** Lean and fat mass in the unit of `mass`. */
export const leanMass = (mass: number, percentFat: number): number => mass * (1 - percentFat / 100)
export const fatMass = (mass: number, percentFat: number): number => (mass * percentFat) / 100

/** The mass at which the same lean mass would be `target` percent fat. Arithmetic, not advice. */
export const massAtPercentFat = (mass: number, percentFat: number, target: number): number =>
  leanMass(mass, percentFat) / (1 - target / 100)
