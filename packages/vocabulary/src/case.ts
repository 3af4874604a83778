import { z } from 'zod'
import { CorrectionId, DayId, PersonId, StationId, StudentId } from './ids.ts'
import { SealedText, type Role } from './people.ts'

const id = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9_.:@-]{0,95}$/)
export const CaseId = id.brand('CaseId')
export type CaseId = z.infer<typeof CaseId>
const Digest = z.string().regex(/^[0-9a-f]{64}$/)
const Words = z.string().trim().min(1).max(4000)

/** `dispute`: a value is questioned. `inspect`: to see the own record. `amend`: to have a statement in it put right. */
export const CaseKind = z.enum(['dispute', 'inspect', 'amend'])
export type CaseKind = z.infer<typeof CaseKind>
export const Finding = z.enum(['upheld', 'partlyUpheld', 'notUpheld'])
export type Finding = z.infer<typeof Finding>
const SentBy = z.enum(['hand', 'post', 'electronic'])

// Acts

export const OpenCase = z.strictObject({
  dayId: DayId,
  studentId: StudentId,
  stationId: StationId.nullable(),
  kind: CaseKind,
  question: Words,
  /** When it reached the academy, and by when it is to be answered: civil dates of the site. Local policy sets the deadline. */
  receivedOn: z.iso.date(),
  answerBy: z.iso.date(),
})
/** The record as it stood after so many entries. Its digest is the office's to compute: nobody tells it one. */
export const AddExhibit = z.strictObject({ caseId: CaseId, entries: z.int().positive(), note: Words })
/** In the student's own words. It travels with the record from then on. */
export const AttachStatement = z.strictObject({ caseId: CaseId, words: Words })
/** What somebody on staff says that they saw. */
export const AttachAccount = z.strictObject({ caseId: CaseId, personId: PersonId, words: Words })
export const DraftDecision = z.strictObject({ caseId: CaseId, finding: Finding, reasons: Words, cites: z.array(id).min(1).max(40) })
export const ApproveDecision = z.strictObject({ caseId: CaseId, decisionId: id })
export const ReturnDecision = z.strictObject({ caseId: CaseId, decisionId: id, because: Words })
/** A correction stands in the day's own record, countersigned there; the case only says that it came of it. */
export const ReferCorrection = z.strictObject({ caseId: CaseId, correctionId: CorrectionId })
export const SendLetter = z.strictObject({ caseId: CaseId, sentOn: z.iso.date(), sentBy: SentBy })
export const CloseCase = z.strictObject({ caseId: CaseId })
/** How long its papers are kept, and whether nothing of it may be deleted meanwhile, whatever a schedule says. */
export const KeepCase = z.strictObject({ caseId: CaseId, keepUntil: z.iso.date(), deletionHeld: z.boolean(), because: Words })

const act = <Body extends z.ZodType>(noun: string, body: Body, roles: readonly Role[]) => ({ noun, body, roles, countersign: false })
const lead: readonly Role[] = ['supervisor', 'coordinator']
const supervisor: readonly Role[] = ['supervisor']

/** What may be asked of the office about a case; part of `officeActs`. */
export const caseActs = {
  openCase: act('cases', OpenCase, lead),
  addExhibit: act('case-exhibits', AddExhibit, lead),
  attachStatement: act('case-statements', AttachStatement, lead),
  attachAccount: act('case-accounts', AttachAccount, lead),
  draftDecision: act('case-decisions', DraftDecision, supervisor),
  approveDecision: act('case-approvals', ApproveDecision, lead),
  returnDecision: act('case-returns', ReturnDecision, lead),
  referCorrection: act('case-corrections', ReferCorrection, supervisor),
  sendLetter: act('case-letters', SendLetter, lead),
  closeCase: act('case-closures', CloseCase, ['coordinator']),
  keepCase: act('case-retentions', KeepCase, ['coordinator']),
} as const

// Events of `case/<caseId>`

export const CaseEvent = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('caseOpened'), caseId: CaseId, ...OpenCase.shape, question: SealedText }),
  z.strictObject({
    type: z.literal('exhibitAdded'),
    exhibitId: id,
    entries: z.int().positive(),
    /** Of the last of these entries: the ledger's clock and its hash, and SHA-256 over the record in canonical form as it stood then. */
    recordedAt: z.int(),
    entryHash: z.string(),
    recordDigest: Digest,
    note: SealedText,
  }),
  z.strictObject({ type: z.literal('statementAttached'), words: SealedText }),
  z.strictObject({ type: z.literal('accountAttached'), personId: PersonId, words: SealedText }),
  z.strictObject({
    type: z.literal('decisionDrafted'),
    decisionId: id,
    finding: Finding,
    reasons: SealedText,
    cites: z.array(id),
    draftedBy: PersonId,
  }),
  z.strictObject({ type: z.literal('decisionApproved'), decisionId: id, approvedBy: PersonId }),
  z.strictObject({ type: z.literal('decisionReturned'), decisionId: id, because: SealedText, returnedBy: PersonId }),
  z.strictObject({ type: z.literal('correctionReferred'), correctionId: CorrectionId, stream: z.string(), version: z.int() }),
  z.strictObject({ type: z.literal('letterSent'), sentOn: z.iso.date(), sentBy: SentBy }),
  z.strictObject({ type: z.literal('caseClosed') }),
  z.strictObject({ type: z.literal('retentionSet'), keepUntil: z.iso.date(), deletionHeld: z.boolean(), because: SealedText }),
])
export type CaseEvent = z.infer<typeof CaseEvent>

// What is read

export interface CaseBrief {
  caseId: CaseId
  dayId: DayId
  studentId: StudentId
  stationId: StationId | null
  kind: CaseKind
  receivedOn: string
  answerBy: string
  openedAt: number
  state: 'open' | 'drafted' | 'approved' | 'closed'
  /** An open case holds its record, and a closed one as long as somebody says so. */
  deletionHeld: boolean
  keepUntil: string | null
}
/** The case with its words opened. */
export interface Case extends CaseBrief {
  question: string
  openedBy: PersonId | null
  exhibits: {
    exhibitId: string
    entries: number
    recordedAt: number
    entryHash: string
    recordDigest: string
    note: string
    addedAt: number
  }[]
  statements: { words: string; digest: string; attachedAt: number; attachedBy: PersonId | null }[]
  accounts: { personId: PersonId; words: string; digest: string; attachedAt: number }[]
  decisions: {
    decisionId: string
    finding: Finding
    reasons: string
    cites: string[]
    draftedBy: PersonId
    draftedAt: number
    approved: { by: PersonId; at: number } | null
    returned: { by: PersonId; at: number; because: string } | null
  }[]
  corrections: { correctionId: string; stream: string; version: number }[]
  letters: { sentOn: string; sentBy: z.infer<typeof SentBy>; at: number }[]
  closedAt: number | null
}
