import { useState } from 'preact/hooks'
import type { FloorView } from '@musterbook/day/views/board'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { shortDuration } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { Prompt, StationActs } from './acts.ts'
import { ProtocolCard } from './protocol-card.tsx'

interface Ask {
  prompt: Prompt
  says: string
  /** Words on the key that goes on, and how the answer stands in the record. */
  go: string
  answer: string
  /** The better way, where there is one here. */
  better?: 'brief'
}

export interface Asks {
  /** Goes on at once, or after every question has been answered. */
  then: (go: () => void) => void
  asking: Ask | null
  answer: (how: 'go' | 'notNow' | 'briefedNow') => void
}

/** What is asked before a start and refuses nothing: a student not briefed, a skinfold after exercise. Shown and answered, both are recorded. */
export function useAsks(house: House, view: StationView, student: StationStudent, acts: StationActs): Asks {
  const [waiting, wait] = useState<{ ask: Ask; go: () => void } | null>(null)
  const [answered, remember] = useState<readonly Prompt[]>([])
  const open = asksOf(house, view, student).filter((ask) => !answered.includes(ask.prompt))
  const tell = (ask: Ask, answer: string) => acts.answer(ask.prompt, student.studentId, null, ask.says, answer)
  return {
    asking: waiting?.ask ?? null,
    then: (go) => {
      const [first] = open
      if (first) wait({ ask: first, go })
      else go()
    },
    answer: (how) => {
      if (!waiting) return
      const { ask, go } = waiting
      tell(ask, how === 'go' ? ask.answer : how)
      if (how !== 'go') return wait(null)
      const next = open.find((one) => one.prompt !== ask.prompt)
      remember([...answered, ask.prompt])
      wait(next ? { ask: next, go } : null)
      if (!next) go()
    },
  }
}

function asksOf(house: House, view: StationView, student: StationStudent): Ask[] {
  const { station } = words
  const late = view.protocol.kind === 'skinfold' && hasExercised(house, view, student.studentId)
  const { elsewhere, bib } = student
  const now = house.clock.siteNow()
  return [
    ...(elsewhere && now < elsewhere.askUntil
      ? [
          {
            prompt: 'twoPlaces',
            says: station.elsewhere(bib ?? '?', elsewhere.station, shortDuration(Math.max(0, now - elsewhere.at))),
            go: station.bibIsRight,
            answer: 'bibIsRight',
          } as const,
        ]
      : []),
    ...(student.briefed
      ? []
      : [
          {
            prompt: 'notBriefed',
            says: station.notBriefed,
            go: station.startUnbriefed,
            answer: 'startedUnbriefed',
            better: 'brief',
          } as const,
        ]),
    ...(late ? [{ prompt: 'lateSkinfold', says: station.lateSkinfold, go: station.readAnyway, answer: 'readAllTheSame' } as const] : []),
  ]
}

function hasExercised(house: House, view: StationView, studentId: string): boolean {
  const known = house.view<FloorView>('floor').view.value?.students.find((one) => one.studentId === studentId)
  return known !== undefined && (known.warmUp === 'done' || known.stations.some((one) => one.stationId !== view.stationId && !one.left))
}

interface AskProps {
  house: House
  view: StationView
  student: StationStudent
  acts: StationActs
  asks: Asks
}

/** The question that waits for an answer, where a refusal would stand. */
export function AskedHere({ house, view, student, acts, asks }: AskProps) {
  const [briefing, brief] = useState(false)
  const ask = asks.asking
  if (!ask) return null
  const language = (house.students.value.get(student.studentId)?.language ?? 'en') as 'en' | 'es' | 'ar'
  return (
    <div class="ask" role="alert">
      <p class="ask-says">{ask.says}</p>
      <div class="row">
        {ask.better === 'brief' && (
          <Button kind="primary" onPress={() => brief(true)}>
            {words.station.briefNow}
          </Button>
        )}
        <Button onPress={() => asks.answer('go')}>{ask.go}</Button>
        <Button kind="quiet" onPress={() => asks.answer('notNow')}>
          {words.station.notNow}
        </Button>
      </div>
      <Dialog
        title={words.station.briefTitle}
        open={briefing}
        onClose={() => brief(false)}
        wide
        foot={
          <Button
            kind="primary"
            onPress={() => {
              brief(false)
              asks.answer('briefedNow')
              void acts.brief(student, language)
            }}
          >
            {words.station.briefDone}
          </Button>
        }
      >
        <ProtocolCard protocol={view.protocol} equipmentIds={view.equipmentIds} />
      </Dialog>
    </div>
  )
}

/** What else can be done with somebody before a start. */
export function OnTheWay({ view, student, acts }: Pick<AskProps, 'view' | 'student' | 'acts'>) {
  const [looking, look] = useState(false)
  return (
    <div class="row before-more">
      {student.place === 'called' && (
        <Button size="small" onPress={() => void acts.sendBack(student)}>
          {words.station.sendBack}
        </Button>
      )}
      {student.place === 'waiting' && (
        <Button size="small" onPress={() => void acts.leave(student)}>
          {words.station.leaveLine}
        </Button>
      )}
      {student.place === 'elsewhere' && (
        <Button size="small" onPress={() => void acts.join(student.studentId, student.bib ?? '?')}>
          {words.station.join}
        </Button>
      )}
      <Button size="small" kind="quiet" onPress={() => look(true)}>
        {words.station.card}
      </Button>
      <Dialog title={words.station.card} open={looking} onClose={() => look(false)} wide>
        <ProtocolCard protocol={view.protocol} equipmentIds={view.equipmentIds} />
      </Dialog>
    </div>
  )
}
