import type { Case, CaseEvent } from '@musterbook/vocabulary/case'
import type { PersonId } from '@musterbook/vocabulary/ids'
import type { SealedText } from '@musterbook/vocabulary/people'

type Opened = Extract<CaseEvent, { type: 'caseOpened' }>
type Sealing<Row, Field extends keyof Row> = Omit<Row, Field> & Record<Field, SealedText>
type Decision = Sealing<Omit<Case['decisions'][number], 'returned'>, 'reasons'> & {
  returned: { by: PersonId; at: number; because: SealedText } | null
}

/** One case as its stream tells it, its words still sealed. */
export interface CaseState {
  opened: Omit<Opened, 'type'> | null
  openedAt: number
  openedBy: PersonId | null
  exhibits: readonly Sealing<Case['exhibits'][number], 'note'>[]
  statements: readonly Sealing<Omit<Case['statements'][number], 'digest'>, 'words'>[]
  accounts: readonly Sealing<Omit<Case['accounts'][number], 'digest'>, 'words'>[]
  decisions: readonly Decision[]
  corrections: readonly Case['corrections'][number][]
  letters: readonly Case['letters'][number][]
  closedAt: number | null
  retention: { keepUntil: string; deletionHeld: boolean } | null
}

export const noCase: CaseState = {
  opened: null,
  openedAt: 0,
  openedBy: null,
  exhibits: [],
  statements: [],
  accounts: [],
  decisions: [],
  corrections: [],
  letters: [],
  closedAt: null,
  retention: null,
}

/** Closed when it was answered: a letter went out. */
export const closes = ({ letters }: CaseState): boolean => letters.length > 0

export function evolveCase(
  state: CaseState,
  event: CaseEvent,
  { recordedAt: at, meta }: { recordedAt: number; meta: { personId: string | null } },
): CaseState {
  const by = meta.personId as PersonId | null
  switch (event.type) {
    case 'caseOpened': {
      const { type: _, ...opened } = event
      return { ...state, opened, openedAt: at, openedBy: by }
    }
    case 'exhibitAdded': {
      const { type: _, ...exhibit } = event
      return { ...state, exhibits: [...state.exhibits, { ...exhibit, addedAt: at }] }
    }
    case 'statementAttached':
      return { ...state, statements: [...state.statements, { words: event.words, attachedAt: at, attachedBy: by }] }
    case 'accountAttached':
      return { ...state, accounts: [...state.accounts, { personId: event.personId, words: event.words, attachedAt: at }] }
    case 'decisionDrafted': {
      const { type: _, ...draft } = event
      return { ...state, decisions: [...state.decisions, { ...draft, draftedAt: at, approved: null, returned: null }] }
    }
    case 'decisionApproved':
      return changed(state, event.decisionId, { approved: { by: event.approvedBy, at } })
    case 'decisionReturned':
      return changed(state, event.decisionId, { returned: { by: event.returnedBy, at, because: event.because } })
    case 'correctionReferred': {
      const { type: _, ...correction } = event
      return { ...state, corrections: [...state.corrections, correction] }
    }
    case 'letterSent':
      return { ...state, letters: [...state.letters, { sentOn: event.sentOn, sentBy: event.sentBy, at }] }
    case 'caseClosed':
      return { ...state, closedAt: at }
    case 'retentionSet':
      return { ...state, retention: { keepUntil: event.keepUntil, deletionHeld: event.deletionHeld } }
  }
}

const changed = (state: CaseState, decisionId: string, change: Partial<Decision>): CaseState => ({
  ...state,
  decisions: state.decisions.map((one) => (one.decisionId === decisionId ? { ...one, ...change } : one)),
})
