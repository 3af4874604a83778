import { useState } from 'preact/hooks'
import type { ProtocolOf } from '@musterbook/stations/protocol'
import type { AttemptId } from '@musterbook/vocabulary/ids'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { newId, showWhat } from '../shell/shell.tsx'
import { stationActs } from '../station/acts.ts'
import { useDraft } from '../station/draft.ts'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { WrittenWave } from './acts.ts'
import { askAboutLaps, askAboutTime } from './asks.ts'
import { Asked } from './asked.tsx'
import { CodeChoice, codeOf } from './codes.tsx'
import { blankLaps, blankRunner, type LapsDraft } from './draft.ts'
import { Official, people, type RowsProps } from './rows.tsx'
import { lapsWritten, writtenAt } from './written.ts'

/** A wave as its sheet has it: the gun once, then each runner's row of times since the gun. */
export function Laps(props: RowsProps) {
  const { view } = props
  const newest = view.waves.at(-1)?.waveId ?? ''
  const [draft, write] = useDraft<LapsDraft>(`musterbook.paper.${view.dayId}.${view.stationId}`, { ...blankLaps, waveId: newest })
  const change = (changed: Partial<LapsDraft>) => write({ ...draft, ...changed })
  const waves: WrittenWave[] = [...view.waves, ...draft.own.filter((own) => !view.waves.some((one) => one.waveId === own.waveId))]
  const chosen = waves.find((one) => one.waveId === draft.waveId)
  const zone = props.house.day.value!.timeZone
  return (
    <div class="stack narrow">
      <Choice
        label={words.paper.wave}
        value={chosen?.waveId ?? ''}
        blank={words.paper.newWave}
        choices={waves.map((one, index) => ({
          value: one.waveId,
          says: words.paper.waveAt(index + 1, wallClock(one.gunAt, zone, true)),
        }))}
        onChange={(waveId) => change({ waveId, ...blankRunner })}
      />
      {chosen ? (
        <Runner key={chosen.waveId} {...props} draft={draft} change={change} wave={chosen} />
      ) : (
        <Gun {...props} draft={draft} change={change} />
      )}
    </div>
  )
}

interface Typing extends RowsProps {
  draft: LapsDraft
  change: (changed: Partial<LapsDraft>) => void
}

function Gun({ house, view, acts, sheet, draft, change }: Typing) {
  const [tried, tryTo] = useState(false)
  const [question, ask] = useState<string | null>(null)
  const day = house.day.value!
  const written = writtenAt(draft.gun, day.date, day.utcOffsetMinutes)
  const bibs = draft.bibs.split(/[\s,;]+/).filter((bib) => bib !== '')
  const runners = bibs.flatMap((bib) => view.students.find((student) => student.bib === bib)?.studentId ?? [])
  const unknown = bibs.filter((bib) => !view.students.some((student) => student.bib === bib))

  const fire = async (kept: boolean) => {
    tryTo(true)
    if (!written || runners.length === 0 || unknown.length > 0) return
    const doubt = askAboutTime(written.at, written.bandMs, house.clock.siteNow(), draft.gun).join(' ')
    if (doubt && !kept) return ask(doubt)
    const wave: WrittenWave = {
      waveId: newId('wave'),
      gunAt: written.at,
      official: draft.official,
      runners: runners.map((studentId) => ({ studentId, attemptId: newId('paper') as AttemptId })),
    }
    const outcome = await showWhat(house, words.paper.told(sheet), acts.gun(wave, written))
    if (!stands(outcome)) return
    change({ own: [...draft.own, wave], waveId: wave.waveId, gun: '', bibs: '', ...blankRunner })
  }
  const typed = (changed: Partial<LapsDraft>) => {
    ask(null)
    change(changed)
  }

  return (
    <>
      <Field
        label={words.paper.gun}
        hint={words.paper.whenHint}
        value={draft.gun}
        onInput={(gun) => typed({ gun })}
        error={tried && !written ? words.paper.whenWrong : undefined}
      />
      <Field
        label={words.paper.bibs}
        hint={words.paper.bibsHint}
        value={draft.bibs}
        onInput={(list) => typed({ bibs: list })}
        error={
          tried && unknown.length > 0
            ? words.paper.bibsUnknown(unknown.join(', '))
            : tried && runners.length === 0
              ? words.paper.needed
              : undefined
        }
      />
      <Official official={draft.official} onChange={(official) => typed({ official })} />
      {question ? (
        <Asked question={question} onKeep={() => void fire(true)} onRetype={() => ask(null)} />
      ) : (
        <Button kind="primary" onPress={() => void fire(false)}>
          {words.paper.saveGun}
        </Button>
      )}
    </>
  )
}

function Runner({ draft, change, wave, ...props }: Typing & { wave: WrittenWave }) {
  const { house, view, acts, sheet } = props
  const [tried, tryTo] = useState(false)
  const [question, ask] = useState<string | null>(null)
  const day = house.day.value!
  const protocol = view.protocol as ProtocolOf<'run'>
  const code = codeOf(protocol, draft.code)
  const isEmpty = draft.row.trim() === ''
  const laps = isEmpty && code ? [] : lapsWritten(draft.row)
  const ended = writtenAt(draft.ended, day.date, day.utcOffsetMinutes)
  const runner = wave.runners.find((one) => one.studentId === draft.studentId)
  const typed = (changed: Partial<LapsDraft>) => {
    ask(null)
    change(changed)
  }

  const save = async (kept: boolean) => {
    tryTo(true)
    if (!runner || !laps || (code && !ended)) return
    const doubt = askAboutLaps(protocol, laps, !code).join(' ')
    if (doubt && !kept) return ask(doubt)
    const early = code && ended ? { outcome: code.outcome, fault: code.fault, written: ended } : null
    const outcome = await showWhat(house, words.paper.told(sheet), acts.laps(wave, runner.studentId, laps, early))
    if (!stands(outcome)) return
    if (doubt) stationActs(house, view).answer('unusualValue', runner.studentId, runner.attemptId, doubt, 'keep')
    ask(null)
    tryTo(false)
    change(blankRunner)
  }

  return (
    <>
      <Choice
        label={words.paper.who}
        value={draft.studentId}
        blank={words.paper.whoBlank}
        choices={people(props).filter(({ value }) => wave.runners.some((one) => one.studentId === value))}
        onChange={(studentId) => typed({ studentId })}
        error={tried && !runner ? words.paper.needed : undefined}
      />
      <CodeChoice protocol={protocol} code={draft.code} good={words.paper.finished} onChange={(chosen) => typed({ code: chosen })} />
      <Field
        label={code ? words.paper.lapsBefore : words.paper.laps}
        hint={words.paper.lapsHint}
        optional={code !== undefined}
        value={draft.row}
        onInput={(row) => typed({ row })}
        error={tried && !laps ? words.paper.lapsWrong : undefined}
      />
      {code && (
        <Field
          label={words.paper.endedAt}
          hint={words.paper.whenHint}
          value={draft.ended}
          onInput={(clock) => typed({ ended: clock })}
          error={tried && !ended ? words.paper.whenWrong : undefined}
        />
      )}
      {question ? (
        <Asked question={question} onKeep={() => void save(true)} onRetype={() => ask(null)} />
      ) : (
        <Button kind="primary" onPress={() => void save(false)}>
          {words.paper.save}
        </Button>
      )}
    </>
  )
}
