import { useState } from 'preact/hooks'
import type { AttemptView } from '@musterbook/day/views/parts'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { AttemptId, StudentId } from '@musterbook/vocabulary/ids'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Field } from '../parts/field/field.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { newId } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { amountOf } from '../parts/number-pad/typing.ts'
import type { Change, StationActs } from './acts.ts'
import { formOfProtocol, measured } from './value-entry.tsx'
import { whichOf } from './tries.tsx'

interface Props {
  house: House
  view: StationView
  student: StationStudent
  /** As it stood when this was opened: a save over a later change is refused. */
  attempt: AttemptView
  acts: StationActs
  onClose: () => void
}

type Kind = Change['kind']

/** A slip put right by a new event that names the old one, with its reason. Both histories show it. */
export function MendDialog({ house, view, student, attempt, acts, onClose }: Props) {
  const [kind, setKind] = useState<Kind>('reassign')
  const [bib, typeBib] = useState('')
  const [typed, typeValue] = useState('')
  const [reason, write] = useState('')
  const [wrong, setWrong] = useState<'reason' | 'detail' | null>(null)
  const { protocol } = view
  const form = formOfProtocol(protocol)
  const bibs = house.view<SafetyView>('safety').view.value?.bibs ?? {}
  const otherId = bibs[bib.trim()]
  const padded = amountOf(typed.trim().replace(',', '.').replace('−', '-'), form)
  const kinds: Kind[] = ['reassign', ...(protocol.kind === 'skinfold' ? [] : (['value'] as const)), 'void', 'official']

  const change = (): Change | null => {
    if (kind === 'reassign')
      return otherId && otherId !== student.studentId
        ? { kind, toStudentId: otherId as StudentId, newAttemptId: newId('attempt') as AttemptId }
        : null
    if (kind === 'value') return padded === undefined ? null : { kind, value: measured(protocol, form.amountOf(padded)) }
    return kind === 'official' ? { kind, official: !attempt.official } : { kind: 'void' }
  }
  const save = () => {
    const wanted = change()
    if (!wanted) return setWrong('detail')
    if (reason.trim() === '') return setWrong('reason')
    const what =
      kind === 'reassign' ? words.station.told.moved(student.bib ?? '?', bib.trim()) : words.station.told.mended(student.bib ?? '?')
    void acts.correct(what, student.studentId, attempt, wanted, reason.trim())
    onClose()
  }

  return (
    <Dialog
      title={words.station.mendTitle(whichOf(attempt), student.bib ?? '?')}
      open
      onClose={onClose}
      wide
      foot={
        <Button kind="primary" onPress={save}>
          {kind === 'reassign' && otherId ? words.station.moveTo(bib.trim()) : words.station.mendSave}
        </Button>
      }
    >
      <div class="stack">
        <Tabs
          label={words.station.mend}
          value={kind}
          choices={kinds.map((value) => ({ value, says: words.station.mendKinds[value] }))}
          onChange={(value) => {
            setKind(value as Kind)
            setWrong(null)
          }}
        />
        {kind === 'reassign' && (
          <>
            <Field
              label={words.station.rightStudent}
              value={bib}
              onInput={typeBib}
              inputMode="numeric"
              autoComplete="off"
              maxLength={4}
              error={bibError(bib, otherId, student.studentId, wrong === 'detail')}
            />
            {otherId && otherId !== student.studentId && <StudentCard student={shown(house, otherId, bib.trim())} />}
          </>
        )}
        {kind === 'value' && (
          <Field
            label={words.station.rightValue}
            value={typed}
            onInput={typeValue}
            inputMode="decimal"
            autoComplete="off"
            unit={form.sign}
            error={wrong === 'detail' && padded === undefined ? words.numberPad.empty : undefined}
          />
        )}
        {kind === 'official' && <p>{attempt.official ? words.station.makePractice : words.station.makeOfficial}</p>}
        <Field
          label={words.station.mendReason}
          hint={words.station.mendReasonHint}
          value={reason}
          onInput={write}
          maxLength={500}
          error={wrong === 'reason' && reason.trim() === '' ? words.station.moreReason : undefined}
        />
        <div class="row">
          {words.station.reasons[kind].map((usual) => (
            <Button key={usual} size="small" onPress={() => write(usual)}>
              {usual}
            </Button>
          ))}
        </div>
      </div>
    </Dialog>
  )
}

function bibError(bib: string, otherId: string | undefined, studentId: string, asked: boolean): string | undefined {
  const typed = bib.trim()
  if (otherId === studentId) return words.station.sameStudent
  return !otherId && (asked || typed.length >= 3) ? words.shell.nobodyWears(typed || '?') : undefined
}
