import { z } from 'zod'

/** What one service may ask of another: where, in what words, and how long is waited for an answer. */
export interface Question<Asked, Said> {
  readonly subject: string
  readonly asked: z.ZodType<Asked>
  readonly said: z.ZodType<Said>
  /** One try is given up after so long, ms: whoever was asked may have ended. */
  readonly withinMs: number
  /** It is asked again, of whoever is there then, until so long has passed, ms. What is asked does no harm when it is asked twice. */
  readonly patienceMs: number
}

/** NATS carries a megabyte; a question or an answer that comes near it is a mistake. */
export const mostBytes = 900_000

/** Every answer says which of the two it is. */
export const Reply = z.union([
  z.strictObject({ said: z.unknown() }),
  z.strictObject({ failed: z.strictObject({ name: z.string().max(100), message: z.string().max(1_000) }) }),
])
export type Reply = z.infer<typeof Reply>

/** Nobody took it up: it is asked again. */
export const busy = 'Busy'
