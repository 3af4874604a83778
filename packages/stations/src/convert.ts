/** Exact by definition: the international foot, inch, mile and pound. */
export const feetToMetres = (feet: number): number => (feet * 3048) / 10_000
export const inchesToCentimetres = (inches: number): number => (inches * 254) / 100
export const milesToMetres = (miles: number): number => (miles * 1_609_344) / 1000
export const poundsToKilograms = (pounds: number): number => (pounds * 45_359_237) / 100_000_000
export const kilogramsToPounds = (kilograms: number): number => (kilograms * 100_000_000) / 45_359_237
