/** Lean and fat mass in the unit of `mass`. */
export const leanMass = (mass: number, percentFat: number): number => mass * (1 - percentFat / 100)
export const fatMass = (mass: number, percentFat: number): number => (mass * percentFat) / 100

/** The mass at which the same lean mass would be `target` percent fat. Arithmetic, not advice. */
export const massAtPercentFat = (mass: number, percentFat: number, target: number): number =>
  leanMass(mass, percentFat) / (1 - target / 100)

/** What a scale usually shows, and how far two weigh-ins of one day may lie apart, before a screen asks. INVENTED for the demonstration; keeping is always possible. */
const usualMass = { minGrams: 40_000, maxGrams: 150_000, jumpGrams: 2_000 }
export type MassQuestion = { kind: 'outsideUsualRange'; minGrams: number; maxGrams: number } | { kind: 'jump'; earlierGrams: number }

/** Is this what was meant? `earlierGrams`: an earlier weigh-in of the same day. Nothing is refused or clipped. */
export function massQuestion(grams: number, earlierGrams?: number): MassQuestion | undefined {
  const { minGrams, maxGrams, jumpGrams } = usualMass
  if (grams < minGrams || grams > maxGrams) return { kind: 'outsideUsualRange', minGrams, maxGrams }
  return earlierGrams !== undefined && Math.abs(grams - earlierGrams) > jumpGrams ? { kind: 'jump', earlierGrams } : undefined
}
