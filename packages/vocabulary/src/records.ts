import { z } from 'zod'
import { CaseKind } from './case.ts'
import { StudentId } from './ids.ts'
import type { Role } from './people.ts'

const Days = z.int().min(1).max(366)
const Years = z.int().min(1).max(100)

/** What a site decides about its records: by when requests are answered, how long each class of record is kept, which groups are shown. */
export const RecordsPolicy = z.strictObject({
  id: z.string().min(1).max(80),
  edition: z.string(),
  source: z.string(),
  /** Civil days from receipt to answer. */
  answerDays: z.record(CaseKind, Days),
  /**
   * Years after the student’s last test day. `record`: names, birth date, photo and every word typed about the student. `medical`: the
   * medical compartment. Days themselves are kept: they know a student by a pseudonym, and their chain must go on verifying.
   */
  keepYears: z.strictObject({ record: Years, medical: Years }),
  /** Groups of fewer are not shown. Five is the floor: fewer would be about persons. */
  leastShown: z.int().min(5).max(100),
  /** The site’s own measurement error of a test, in its score unit; it goes before a published one. */
  measurementErrors: z.array(
    z.strictObject({ protocolId: z.string().min(1).max(80), standardError: z.number().positive(), unit: z.string(), source: z.string() }),
  ),
})
export type RecordsPolicy = z.infer<typeof RecordsPolicy>

/** Why names and words go: the schedule says so, or the student asked. No words of anybody’s: they would have to go as well. */
export const ErasureReason = z.enum(['due', 'asked'])
export type ErasureReason = z.infer<typeof ErasureReason>

export const AskErasure = z.strictObject({ studentId: StudentId, because: ErasureReason })
export const WithdrawErasure = z.strictObject({ studentId: StudentId })
export const ConfirmErasure = z.strictObject({ studentId: StudentId })

const lead: readonly Role[] = ['supervisor', 'coordinator']
const act = <Body extends z.ZodType>(noun: string, body: Body, roles: readonly Role[]) => ({ noun, body, roles, countersign: false })

/** What may be asked of the office about the end of a record; part of `officeActs`. One person asks and another confirms, each signed on. */
export const recordActs = {
  askErasure: act('erasure-requests', AskErasure, ['coordinator']),
  withdrawErasure: act('erasure-withdrawals', WithdrawErasure, lead),
  confirmErasure: act('erasures', ConfirmErasure, lead),
} as const

/** How far an erasure has come. Nothing about it is personal: it outlives what was erased. */
export interface Erasure {
  studentId: StudentId
  because: ErasureReason
  askedBy: string
  askedAt: number
  erased: { at: number; confirmedBy: string } | null
}
