import { useState } from 'preact/hooks'
import type { BoardView } from '@musterbook/day/views/board'
import type { AttemptView } from '@musterbook/day/views/parts'
import type { RecordView } from '@musterbook/day/views/record'
import type { AttemptId, CorrectionId, StudentId } from '@musterbook/vocabulary/ids'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { Change } from '@musterbook/vocabulary/review'
import { answersTo } from '../house/find.ts'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { sentenceOf } from '../house/sentence.ts'
import { newId, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { AttemptFacts, whichTry } from './attempt-facts.tsx'
import { SecondPerson } from './second-person.tsx'
import { signOf, typedAmount } from './typed-value.ts'
import { valueSays } from './value-says.ts'
import { whoIs } from './who.ts'

type Kind = Change['kind']

interface Props {
  house: House
  board: BoardView
  record: RecordView
  station: RecordView['stations'][number]
  /** As it stood when somebody opened it. */
  opened: AttemptView
  onClose: () => void
}

/** A new entry that names the old one. Saved over a change that was not seen it is refused, and what changed is shown. */
export function CorrectDialog({ house, board, record, station, opened, onClose }: Props) {
  const [seen, see] = useState(opened)
  const [kind, setKind] = useState<Kind>(station.attempts.length > 0 && opened.observations.length > 0 ? 'value' : 'void')
  const [typed, type] = useState('')
  const [toStudentId, setTo] = useState('')
  const [sought, seek] = useState('')
  const [reason, write] = useState('')
  const [second, setSecond] = useState({ personId: '', pin: '' })
  const [wrong, setWrong] = useState<{ value?: string; student?: string; reason?: string; second?: string }>({})
  const [no, setNo] = useState('')
  const [isChanged, setChanged] = useState(false)
  const { record: say } = words.supervisor
  const protocol = house.day.value?.stations.find(({ stationId }) => stationId === station.stationId)?.protocol
  const isFinal = record.signedOffAt !== null || record.sealed
  const now = station.attempts.find(({ attemptId }) => attemptId === seen.attemptId) ?? seen
  const read = seen.observations.at(-1)?.value ?? null
  const kinds: Kind[] = [...(protocol && protocol.kind !== 'skinfold' ? (['value'] as const) : []), 'void', 'official', 'reassign']

  const change = (): Change | null => {
    if (kind === 'void') return { kind }
    if (kind === 'official') return { kind, official: !seen.official }
    if (kind === 'reassign')
      return toStudentId ? { kind, toStudentId: toStudentId as StudentId, newAttemptId: newId('attempt') as AttemptId } : null
    const amount = protocol && typedAmount(typed, protocol.unit)
    if (!protocol || amount === undefined) return null
    const value: Measured = {
      amount,
      unit: protocol.unit,
      resolution: read?.resolution ?? protocol.resolution,
      method: read?.method ?? protocol.timing ?? 'corrected',
    }
    return { kind, value }
  }
  const save = async () => {
    const wanted = change()
    const problems = {
      ...(kind === 'value' && !wanted && { value: say.notAValue }),
      ...(kind === 'reassign' && !wanted && { student: say.chooseStudent }),
      ...(reason.trim() === '' && { reason: words.station.moreReason }),
      ...(isFinal && (!second.personId || !second.pin) && { second: words.office.setUp.needed }),
    }
    setWrong(problems)
    setNo('')
    if (!wanted || Object.keys(problems).length > 0) return
    const outcome = await tell(
      house,
      say.told(say.corrections[kind] ?? kind),
      'correct',
      {
        correctionId: newId('correction') as CorrectionId,
        studentId: record.studentId as StudentId,
        attemptId: seen.attemptId as AttemptId,
        change: wanted,
        reason: reason.trim(),
        seenRevision: seen.revision,
      },
      isFinal ? second : undefined,
    )
    if (outcome.said === 'recorded') return onClose()
    setChanged(outcome.said === 'refused' && outcome.refusal.rule === 'changedSince')
    setNo(sentenceOf(outcome) ?? '')
    setSecond({ ...second, pin: '' })
  }

  return (
    <Dialog
      title={say.correctTitle(whichTry(seen), station.name)}
      open
      wide
      onClose={onClose}
      foot={
        !isChanged && (
          <Button kind="primary" onPress={() => void save()}>
            {say.save}
          </Button>
        )
      }
    >
      <div class="stack">
        <p>
          <strong>{whoIs(house, record.studentId, record.bib)}</strong>. {say.correctHelp}
        </p>
        <AttemptFacts house={house} attempt={seen} />
        {no && (
          <div class="office-missing stack" role="alert">
            <p>
              <strong>{no}</strong>
            </p>
            {isChanged && (
              <>
                <p>{say.changedWhat(whatChanged(seen, now))}</p>
                <AttemptFacts house={house} attempt={now} />
                <Button
                  kind="primary"
                  onPress={() => {
                    see(now)
                    setChanged(false)
                    setNo('')
                  }}
                >
                  {say.openNew}
                </Button>
              </>
            )}
          </div>
        )}
        {!isChanged && (
          <>
            <Tabs
              label={say.kind}
              labelled
              value={kind}
              choices={kinds.map((value) => ({ value, says: say.kinds[value] }))}
              onChange={(value) => setKind(value as Kind)}
            />
            {kind === 'value' && protocol && (
              <Field
                label={say.newValue}
                hint={say.newValueHint(signOf(protocol.unit), read ? valueSays(read) : words.common.none)}
                inputMode="decimal"
                value={typed}
                onInput={type}
                unit={signOf(protocol.unit)}
                error={wrong.value}
              />
            )}
            {kind === 'official' && <p>{seen.official ? say.makePractice : say.makeOfficial}</p>}
            {kind === 'reassign' && (
              <div class="supervisor-pair">
                <Field label={say.rightStudent} type="search" value={sought} onInput={seek} optional />
                <Choice
                  label={say.chooseStudent}
                  value={toStudentId}
                  blank={words.common.none}
                  error={wrong.student}
                  choices={board.students
                    .filter((student) => student.studentId !== record.studentId && answersTo(house, sought, student))
                    .map(({ studentId, bib }) => ({ value: studentId, says: whoIs(house, studentId, bib) }))}
                  onChange={setTo}
                />
              </div>
            )}
            <Field
              label={say.reason}
              hint={words.supervisor.inbox.reasonHint}
              long
              value={reason}
              onInput={write}
              maxLength={2000}
              error={wrong.reason}
            />
            {isFinal && <SecondPerson house={house} value={second} onChange={setSecond} error={wrong.second} />}
          </>
        )}
      </div>
    </Dialog>
  )
}

/** In words: the corrections that this screen had not seen. */
function whatChanged(seen: AttemptView, now: AttemptView): string {
  const { corrections, status } = words.supervisor.record
  const later = now.corrections.filter(({ correctionId }) => !seen.corrections.some((one) => one.correctionId === correctionId))
  const said = later.map(({ kind }) => corrections[kind] ?? kind)
  return [...said, ...(now.status !== seen.status ? [status[now.status] ?? now.status] : [])].join(', ')
}
