import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { GatePanel } from '../parts/gate-panel/gate-panel.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { RadioWay, radioSays, radioWord } from '../radio/radio.tsx'
import { LastTold, lastTold, newId } from '../shell/shell.tsx'
import { figure, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { runActs } from './acts.ts'
import { waveEnd } from './forecast.ts'
import { freshReading, startGates } from './start-gates.ts'
import { seenElsewhere, WhoseBib } from './whose-bib.tsx'

interface Props {
  house: House
  view: StationView
  safety: SafetyView
  runners: readonly StationStudent[]
  onStarted: (waveId: string) => void
  onLeaveOut: (bib: string) => void
}

/** The gates of the wave, practice or official, the gun, and what the day answered to it: under one another, under one hand. */
export function Start({ house, view, safety, runners, onStarted, onLeaveOut }: Props) {
  const [official, setOfficial] = useState(true)
  const [sending, send] = useState(false)
  // Named before the gun: the radio's word is for this wave and no other.
  const [waveId, nameNext] = useState(() => newId('wave'))
  const covers = { stationId: view.stationId, waveId }
  const word = radioWord(house, covers)
  const now = house.clock.now.value
  const zone = house.day.value?.timeZone ?? 'UTC'
  const gates = startGates({
    view,
    safety,
    now,
    zone,
    contactAgeMs: house.contactAgeMs.value,
    contactLimitMs: house.day.value?.contactAgeMs ?? 0,
    nameOf: (personId) => house.staff.value.get(personId) ?? personId,
    radio: word && radioSays(house, word),
  })
  const open = gates.find(({ state }) => state !== 'met')

  const [isRight, hear] = useState<readonly string[]>([])
  const [asked] = seenElsewhere(runners, now).filter(({ studentId }) => !isRight.includes(studentId))

  const gun = async () => {
    send(true)
    const told = runActs(house, view).gun(
      waveId,
      runners.map(({ studentId }) => studentId),
      official,
    )
    const outcome = await told
    send(false)
    if (!stands(outcome)) return
    hear([])
    nameNext(newId('wave'))
    onStarted(waveId)
  }

  return (
    <div class="stack">
      <EndsLater house={house} view={view} safety={safety} now={now} zone={zone} />
      <Tabs
        label={words.run.kind}
        labelled
        value={official ? 'official' : 'practice'}
        choices={[
          { value: 'official', says: words.run.official },
          { value: 'practice', says: words.run.practice },
        ]}
        onChange={(value) => setOfficial(value === 'official')}
      />
      {runners.length > 0 &&
        (open ? (
          <div class="run-no">
            <Mark state="notMet" says={words.run.noStart} large />
            <p>{open.detail ?? open.name}</p>
            {open.id === 'contact' && <RadioWay key={waveId} house={house} covers={covers} />}
            <Button busy={sending} detail={words.run.askAnywayDetail} onPress={() => void gun()}>
              {words.run.askAnyway}
            </Button>
          </div>
        ) : asked ? (
          <WhoseBib
            key={asked.studentId}
            house={house}
            runner={asked}
            onRight={(shown) => {
              hear([...isRight, asked.studentId])
              runActs(house, view).bibIsRight(asked, shown)
            }}
            onLeaveOut={() => onLeaveOut(asked.bib ?? '')}
          />
        ) : (
          <button
            type="button"
            class="button button-primary run-gun"
            aria-disabled={sending || undefined}
            onClick={() => !sending && void gun()}
          >
            <span class="run-gun-word">{words.run.gun}</span>
            <span>{official ? words.run.gunFor(runners.length) : words.run.gunPractice(runners.length)}</span>
          </button>
        ))}
      <Answer house={house} onLeaveOut={onLeaveOut} />
      <GatePanel title={words.run.gates} gates={gates} />
    </div>
  )
}

/** What the day said, where the hand that pressed is looking; and the way on where one runner is in the way. */
function Answer({ house, onLeaveOut }: { house: House; onLeaveOut: (bib: string) => void }) {
  const outcome = lastTold.value?.outcome
  const bib =
    typeof outcome === 'object' && outcome.said === 'refused' && outcome.refusal.rule === 'runnerMayNotStart'
      ? outcome.refusal.params['bib']
      : undefined
  return (
    <div class="stack">
      <LastTold house={house} />
      {bib !== undefined && (
        <Button
          onPress={() => {
            onLeaveOut(String(bib))
            lastTold.value = undefined
          }}
        >
          {words.run.leaveOut(String(bib))}
        </Button>
      )}
    </div>
  )
}

/** Named before it starts: a wave that would be out longer than its reading counts. */
function EndsLater({ view, safety, now, zone }: { house: House; view: StationView; safety: SafetyView; now: number; zone: string }) {
  const reading = freshReading({ safety, now })
  if (!reading || view.protocol.kind !== 'run') return null
  const end = waveEnd(now, view.waves, view.protocol.details.track.laps)
  if (end.at <= reading.validUntil) return null
  return (
    <div class="run-note">
      <Mark
        state="review"
        says={words.run.endsAfter(
          wallClock(end.at, zone),
          wallClock(reading.validUntil, zone),
          figure(Math.ceil(end.lastsMs / 60_000)),
          end.from,
        )}
      />
    </div>
  )
}
