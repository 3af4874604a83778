import { afterEach, beforeEach, expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { recordView } from '@musterbook/day/views/record'
import { digest } from '@musterbook/evidence/canonical'
import { memoryLedger } from '@musterbook/ledger/memory'
import type { Draft } from '@musterbook/ledger/ledger'
import { fold, type Recorded } from '@musterbook/replay/moments'
import type { CaseId } from '@musterbook/vocabulary/case'
import type { Office } from '@musterbook/vocabulary/office'
import { desked, granted, ruleOf, settled, told, type Desked } from './controls.ts'

const tomas = (commandId?: string) => told('tomas', ['supervisor'], commandId ? { commandId } : {})
const ines = () => told('ines', ['coordinator'])
const studentId = c.studentId('116')
const question = {
  dayId: c.dayId,
  studentId,
  stationId: null,
  kind: 'dispute' as const,
  question: 'The second try was faster.',
  receivedOn: '2027-06-01',
  answerBy: '2027-06-15',
}

let desk: Desked
let office: Office
let entries: Recorded
beforeEach(async () => {
  const day = c.drive()
  c.opened([c.expected('116'), c.expected('105')])(day)
  c.all(c.ready('116'), c.tries('116', 'agility', 'a-1', c.seconds(1720)))(day)
  entries = day.entries
  const ledger = memoryLedger()
  for (const [version, entry] of entries.entries()) await ledger.append(`day/${c.dayId}`, version, entry as unknown as Draft)
  desk = await desked(ledger)
  await settled(desk)
  office = desk.office
})
afterEach(() => desk.end())

test('a case goes from its question to its letter, and each step names who may take the next', async () => {
  const { caseId } = granted(await office.openCase(question, tomas()))
  const { exhibitId } = granted(await office.addExhibit({ caseId, entries: entries.length, note: 'As it stood that evening.' }, tomas()))
  granted(await office.attachStatement({ caseId, words: 'I saw 16.9 on the watch.' }, ines()))
  const draft = { caseId, finding: 'notUpheld' as const, reasons: 'One reading, read back aloud.', cites: [exhibitId] }
  expect(ruleOf(await office.draftDecision({ ...draft, cites: ['exhibit-of-another-case'] }, tomas()))).toBe('noSuchExhibit')
  expect(ruleOf(await office.sendLetter({ caseId, sentOn: '2027-06-02', sentBy: 'hand' }, tomas()))).toBe('decisionNotApproved')
  const { decisionId } = granted(await office.draftDecision(draft, tomas()))

  const own = await office.approveDecision({ caseId, decisionId }, tomas())
  expect(own).toMatchObject({ refused: { rule: 'ownDecision', who: 'Coordinator' } })
  granted(await office.approveDecision({ caseId, decisionId }, ines()))
  expect(ruleOf(await office.draftDecision(draft, tomas()))).toBe('alreadyDecided')
  expect(ruleOf(await office.referCorrection({ caseId, correctionId: 'none' as never }, tomas()))).toBe('noSuchCorrection')
  expect(ruleOf(await office.closeCase({ caseId }, ines()))).toBe('letterNotSent')
  granted(await office.sendLetter({ caseId, sentOn: '2027-06-02', sentBy: 'hand' }, tomas()))
  granted(await office.closeCase({ caseId }, ines()))
  expect(ruleOf(await office.attachStatement({ caseId, words: 'One thing more.' }, ines()))).toBe('caseClosed')

  expect(await office.case(caseId)).toMatchObject({
    state: 'closed',
    question: question.question,
    receivedOn: '2027-06-01',
    answerBy: '2027-06-15',
    statements: [{ words: 'I saw 16.9 on the watch.', attachedBy: 'ines' }],
    decisions: [{ finding: 'notUpheld', draftedBy: 'tomas', approved: { by: 'ines' }, cites: [exhibitId] }],
    letters: [{ sentOn: '2027-06-02', sentBy: 'hand' }],
  })
})

test('an exhibit is the record as it stood: its digest is that of a replay of the same entries', async () => {
  const { caseId } = granted(await office.openCase(question, tomas()))
  for (const at of [3, entries.length]) granted(await office.addExhibit({ caseId, entries: at, note: 'Then.' }, tomas()))
  expect(ruleOf(await office.addExhibit({ caseId, entries: entries.length + 1, note: 'Later.' }, tomas()))).toBe('noSuchMoment')
  const digests = [3, entries.length].map((at) => digest(recordView(fold(c.dayId, entries.slice(0, at)), studentId)))
  expect(new Set(digests).size).toBe(2)
  expect((await office.case(caseId))!.exhibits.map(({ recordDigest }) => recordDigest)).toEqual(digests)
})

test('the words lie sealed, a command told twice opens one case, and a restart forgets nothing', async () => {
  const first = granted(await office.openCase(question, tomas('once')))
  expect(await office.openCase(question, tomas('once'))).toEqual(first)
  for await (const entry of desk.ledger.read(`case/${first.caseId}`, 0)) expect(JSON.stringify(entry)).not.toContain('faster')
  const again = await desk.reopen()
  expect(await again.cases(c.dayId)).toMatchObject([{ caseId: first.caseId, state: 'open', deletionHeld: true }])
  expect(await again.cases('another-day' as never)).toEqual([])
})

test('who asks about nobody of that day, or about a case that is none, is told so', async () => {
  expect(ruleOf(await office.openCase({ ...question, studentId: c.studentId('999') }, tomas()))).toBe('noSuchStudent')
  expect(ruleOf(await office.openCase({ ...question, answerBy: '2027-05-01' }, tomas()))).toBe('deadlineBeforeReceipt')
  expect(ruleOf(await office.attachStatement({ caseId: 'case-none' as CaseId, words: 'x' }, tomas()))).toBe('noSuchCase')
  expect(await office.case('case-none' as CaseId)).toBeNull()
})

test('a closed case is held for as long as somebody says so, and what it holds is not erased', async () => {
  const { caseId } = granted(await office.openCase({ ...question, kind: 'inspect' }, tomas()))
  const erase = async () => ruleOf(await office.askErasure({ studentId, because: 'due' }, ines()))
  expect(await erase()).toBe('erasureHeld')
  granted(await office.sendLetter({ caseId, sentOn: '2027-06-03', sentBy: 'hand' }, tomas()))
  granted(await office.closeCase({ caseId }, ines()))
  expect((await office.case(caseId))!.deletionHeld).toBe(false)
  expect(await erase()).toBe('noSuchStudent')
  granted(await office.keepCase({ caseId, keepUntil: '2030-06-01', deletionHeld: true, because: 'An appeal is announced.' }, ines()))
  expect(await office.case(caseId)).toMatchObject({ deletionHeld: true, keepUntil: '2030-06-01' })
  expect(await erase()).toBe('erasureHeld')
})
