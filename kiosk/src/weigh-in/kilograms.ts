import type { Form } from '../parts/number-pad/typing.ts'
import { figure } from '../words/figures.ts'

/** A scale shows kilograms with two decimals; the record keeps grams. */
export const padForm: Form = { places: 2, most: 3 }
export const gramsOf = (hundredthsKg: number): number => hundredthsKg * 10
export const inKilograms = (grams: number): string => figure(grams / 1000, 2)
