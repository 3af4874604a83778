import { recordView } from '@musterbook/day/views/record'
import { digest } from '@musterbook/evidence/canonical'
import type { LedgerReader } from '@musterbook/ledger/ledger'
import { events, fold, type Recorded } from '@musterbook/replay/moments'
import { type Case, type CaseBrief, CaseEvent, type CaseId } from '@musterbook/vocabulary/case'
import type { DayId, StudentId } from '@musterbook/vocabulary/ids'
import type { Office, Told } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { SealedText } from '@musterbook/vocabulary/people'
import { book } from './book.ts'
import { type CaseState, closes, evolveCase, noCase } from './cases-state.ts'
import type { Desk } from './desk.ts'
import type { Texts } from './texts.ts'

type Cases = Pick<
  Office,
  | 'cases'
  | 'case'
  | 'openCase'
  | 'addExhibit'
  | 'attachStatement'
  | 'attachAccount'
  | 'draftDecision'
  | 'approveDecision'
  | 'returnDecision'
  | 'referCorrection'
  | 'sendLetter'
  | 'closeCase'
  | 'keepCase'
>

/** A question about somebody's record, from its receipt to its letter. It changes no result: what moves one is an act of the day. */
export function cases(desk: Desk, texts: Texts): Cases {
  const kept = book<CaseState, CaseEvent>(desk, { name: 'case', schema: CaseEvent, empty: noCase, evolve: evolveCase })
  const opened = (sealed: SealedText) => texts.open(sealed.textId, 'general') ?? ''

  /** One act on a case that is there and still open. */
  const tell = async <Body extends { caseId: CaseId }>(
    act: string,
    body: Body,
    told: Told,
    decide: (state: CaseState, sealed: (words: string) => SealedText) => readonly CaseEvent[] | ReturnType<typeof officeRefusal>,
  ) => {
    const written = await kept.write(body.caseId, act, body, told, (state) => {
      if (!state.opened) return officeRefusal('noSuchCase')
      if (state.closedAt !== null && act !== 'keepCase') return officeRefusal('caseClosed')
      const about = state.opened.studentId
      return decide(state, (words) => texts.seal(words, 'general', about))
    })
    return 'refused' in written ? written : { caseId: body.caseId }
  }

  return {
    cases: async (dayId) => {
      const all = await Promise.all((await kept.ids()).map(async (id) => (await kept.read(id)).state))
      return all.flatMap((state) => briefOf(state) ?? []).filter((one) => dayId === null || one.dayId === dayId)
    },
    case: async (caseId) => wholeOf((await kept.read(caseId)).state, opened),

    openCase: async (body, told) => {
      if (body.answerBy < body.receivedOn) return officeRefusal('deadlineBeforeReceipt')
      const recorded = await recordedDay(desk.ledger, body.dayId)
      if (!recordView(fold(body.dayId, recorded), body.studentId)) return officeRefusal('noSuchStudent')
      // A command told twice must meet the case that it opened first.
      const caseId = `case-${told.envelope.commandId}`.slice(0, 96) as CaseId
      const written = await kept.write(caseId, 'openCase', body, told, () => [
        { type: 'caseOpened', caseId, ...body, question: texts.seal(body.question, 'general', body.studentId) },
      ])
      return 'refused' in written ? written : { caseId }
    },
    addExhibit: async (body, told) => {
      const about = (await kept.read(body.caseId)).state.opened
      const exhibit = about && (await exhibitOf(desk.ledger, about.dayId, about.studentId, body.entries))
      const exhibitId = `exhibit-${told.envelope.commandId}`.slice(0, 96)
      const answer = await tell('addExhibit', body, told, (_, sealed) =>
        exhibit
          ? [{ type: 'exhibitAdded', exhibitId, entries: body.entries, ...exhibit, note: sealed(body.note) }]
          : officeRefusal('noSuchMoment'),
      )
      return 'refused' in answer ? answer : { exhibitId }
    },
    attachStatement: (body, told) =>
      tell('attachStatement', body, told, (_, sealed) => [{ type: 'statementAttached', words: sealed(body.words) }]),
    attachAccount: (body, told) =>
      tell('attachAccount', body, told, (_, sealed) => [{ type: 'accountAttached', personId: body.personId, words: sealed(body.words) }]),
    draftDecision: async (body, told) => {
      const draftedBy = told.by.personId
      if (!draftedBy) return officeRefusal('personNeeded')
      const decisionId = `decision-${told.envelope.commandId}`.slice(0, 96)
      const answer = await tell('draftDecision', body, told, ({ exhibits, decisions }, sealed) => {
        if (body.cites.some((cited) => !exhibits.some(({ exhibitId }) => exhibitId === cited))) return officeRefusal('noSuchExhibit')
        if (decisions.some(({ approved }) => approved)) return officeRefusal('alreadyDecided')
        const { finding, cites } = body
        return [{ type: 'decisionDrafted', decisionId, finding, reasons: sealed(body.reasons), cites, draftedBy }]
      })
      return 'refused' in answer ? answer : { decisionId }
    },
    approveDecision: (body, told) =>
      tell('approveDecision', body, told, (state) => {
        const approvedBy = told.by.personId
        const draft = waitingDraft(state, body.decisionId)
        if (!approvedBy) return officeRefusal('personNeeded')
        if (!draft) return officeRefusal('noSuchDecision')
        if (draft.draftedBy === approvedBy) return officeRefusal('ownDecision')
        return [{ type: 'decisionApproved', decisionId: body.decisionId, approvedBy }]
      }),
    returnDecision: (body, told) =>
      tell('returnDecision', body, told, (state, sealed) => {
        const returnedBy = told.by.personId
        if (!returnedBy) return officeRefusal('personNeeded')
        if (!waitingDraft(state, body.decisionId)) return officeRefusal('noSuchDecision')
        return [{ type: 'decisionReturned', decisionId: body.decisionId, because: sealed(body.because), returnedBy }]
      }),
    referCorrection: async (body, told) => {
      const about = (await kept.read(body.caseId)).state.opened
      const found = about && (await correctionIn(desk.ledger, about.dayId, about.studentId, body.correctionId))
      return tell('referCorrection', body, told, ({ decisions }) => {
        if (!decisions.some(({ approved }) => approved)) return officeRefusal('decisionNotApproved')
        return found ? [{ type: 'correctionReferred', correctionId: body.correctionId, ...found }] : officeRefusal('noSuchCorrection')
      })
    },
    sendLetter: (body, told) =>
      tell('sendLetter', body, told, ({ decisions, opened: about }) =>
        about?.kind !== 'inspect' && !decisions.some(({ approved }) => approved)
          ? officeRefusal('decisionNotApproved')
          : [{ type: 'letterSent', sentOn: body.sentOn, sentBy: body.sentBy }],
      ),
    closeCase: (body, told) =>
      tell('closeCase', body, told, (state) => (closes(state) ? [{ type: 'caseClosed' }] : officeRefusal('letterNotSent'))),
    keepCase: (body, told) =>
      tell('keepCase', body, told, (_, sealed) => {
        const { keepUntil, deletionHeld } = body
        return [{ type: 'retentionSet', keepUntil, deletionHeld, because: sealed(body.because) }]
      }),
  }
}

const waitingDraft = (state: CaseState, decisionId: string) =>
  state.decisions.find((one) => one.decisionId === decisionId && !one.approved && !one.returned)

/** The day's own entries, then those behind its seal. */
async function recordedDay(ledger: LedgerReader, dayId: DayId): Promise<(Recorded[number] & { hash: string })[]> {
  const all: (Recorded[number] & { hash: string })[] = []
  for (const stream of [`day/${dayId}`, `after/${dayId}`] as const) for await (const entry of ledger.read(stream, 0)) all.push(entry)
  return all
}

/** The record as it stood after so many entries, as a digest that a replay of the same entries gives again. */
async function exhibitOf(ledger: LedgerReader, dayId: DayId, studentId: StudentId, entries: number) {
  const recorded = await recordedDay(ledger, dayId)
  const last = recorded[entries - 1]
  const record = last && recordView(fold(dayId, recorded.slice(0, entries)), studentId)
  return record ? { recordedAt: last.recordedAt, entryHash: last.hash, recordDigest: digest(record) } : undefined
}

async function correctionIn(ledger: LedgerReader, dayId: DayId, studentId: StudentId, correctionId: string) {
  for (const entry of await recordedDay(ledger, dayId)) {
    const isIt = events(entry).some(
      (event) => event.type === 'corrected' && event.correctionId === correctionId && event.studentId === studentId,
    )
    if (isIt) return { stream: entry.stream, version: entry.version }
  }
  return undefined
}

function briefOf(state: CaseState): CaseBrief | null {
  if (!state.opened) return null
  const { caseId, dayId, studentId, stationId, kind, receivedOn, answerBy } = state.opened
  return {
    caseId,
    dayId,
    studentId,
    stationId,
    kind,
    receivedOn,
    answerBy,
    openedAt: state.openedAt,
    state:
      state.closedAt !== null
        ? 'closed'
        : state.decisions.some(({ approved }) => approved)
          ? 'approved'
          : state.decisions.some(({ returned }) => !returned)
            ? 'drafted'
            : 'open',
    deletionHeld: state.closedAt === null || (state.retention?.deletionHeld ?? false),
    keepUntil: state.retention?.keepUntil ?? null,
  }
}

function wholeOf(state: CaseState, opened: (sealed: SealedText) => string): Case | null {
  const brief = briefOf(state)
  if (!brief || !state.opened) return null
  return {
    ...brief,
    question: opened(state.opened.question),
    openedBy: state.openedBy,
    exhibits: state.exhibits.map((one) => ({ ...one, note: opened(one.note) })),
    statements: state.statements.map(({ words, ...one }) => ({ ...one, words: opened(words), digest: words.digest })),
    accounts: state.accounts.map(({ words, ...one }) => ({ ...one, words: opened(words), digest: words.digest })),
    decisions: state.decisions.map((one) => ({
      ...one,
      reasons: opened(one.reasons),
      returned: one.returned && { ...one.returned, because: opened(one.returned.because) },
    })),
    corrections: [...state.corrections],
    letters: [...state.letters],
    closedAt: state.closedAt,
  }
}
