import { z } from 'zod'

/** Integer units in which values are read and kept. A derived value carries its unit in its name instead. */
export const Unit = z.enum([
  'hundredthsOfSecond',
  'tenthsOfSecond',
  'milliseconds',
  'millimetres',
  'quarterInches',
  'halfMillimetres',
  'grams',
  'tenthsKg',
  'hundredthsKg',
  'tenthsLb',
  'count',
  'tenthsDegC',
  'tenthsDegF',
  'hundredthsDegC',
  'hundredthsDegF',
])
export type Unit = z.infer<typeof Unit>

/** A value as read: an integer in its unit, the smallest step the reading had, and how it was had. Never rounded, never converted. */
export const Measured = z.strictObject({
  amount: z.int(),
  unit: Unit,
  /** The smallest step that was read, in the same unit. */
  resolution: z.int().positive(),
  /** What else decides its meaning: 'hand', 'electronic', 'footLine260mm', 'scale' … */
  method: z.string().min(1).max(80),
})
export type Measured = z.infer<typeof Measured>
