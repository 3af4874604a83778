import type { SafetyView } from '@musterbook/day/views/safety'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Mark, Shape } from '../parts/mark/mark.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { overZone } from '../words/over-zone.ts'
import { words } from '../words/words.ts'
import { Hazards } from './hazards.tsx'
import { PaceCard } from './pace-card.tsx'
import type { Contact } from './roll-call.ts'
import type { Page } from './safety-screen.tsx'
import { tasksOf } from './tasks.ts'

interface Props {
  house: House
  safety: SafetyView
  contacts: readonly Contact[]
  onGo: (page: Page) => void
}

/** What waits, what is in force since when and by whom, who is out. */
export function Now({ house, safety, contacts, onGo }: Props) {
  const now = house.clock.now.value
  const zone = house.day.value?.timeZone ?? 'UTC'
  const nameOf = (personId: string) => house.staff.value.get(personId) ?? personId
  const tasks = tasksOf({ safety, now, contacts, nameOf })
  const holds = safety.holds.filter((hold) => !hold.lifted)
  return (
    <div class="split">
      <div class="stack">
        <section class="stack" aria-labelledby="tasks">
          <h2 id="tasks">{words.safety.tasks}</h2>
          {tasks.length === 0 && <p>{safety.holds.some((hold) => !hold.lifted) ? words.safety.heldStill : words.safety.noTasks}</p>}
          <ul class="stack" aria-live="polite">
            {tasks.map((task) => (
              <li key={task.key} class="task" data-urgent={task.urgent || undefined}>
                <Mark state={task.urgent ? 'notMet' : 'waiting'} says={task.says} />
                <Button onPress={() => onGo(task.at)}>{words.safety.go[task.at]}</Button>
              </li>
            ))}
          </ul>
        </section>
        <Hazards house={house} safety={safety} />
      </div>
      <div class="stack">
        <section class="stack" aria-labelledby="in-force">
          <h2 id="in-force">{words.safety.inForce}</h2>
          {holds.length === 0 && (
            <p class="in-force">
              <Shape state="pending" />
              {words.safety.noHold}
            </p>
          )}
          <ul class="stack">
            {holds.map((hold) => (
              <li key={hold.holdId} class="in-force figures">
                <Shape state="hold" />
                {words.safety.holdBy(
                  overZone(hold),
                  words.raiseHold.kinds[hold.kind],
                  wallClock(hold.since, zone),
                  shortDuration(now - hold.since),
                  hold.personId ? nameOf(hold.personId) : words.shell.byPolicy,
                )}
              </li>
            ))}
          </ul>
          <PolicyInForce safety={safety} />
          <PaceCard safety={safety} />
        </section>
        <section class="stack" aria-labelledby="out-now">
          <h2 id="out-now">{words.safety.out}</h2>
          {safety.outdoors.length === 0 && <p>{words.safety.outNone}</p>}
          <ul class="stack">
            {safety.outdoors.map((one) => (
              <li key={one.studentId} class="out">
                <StudentCard student={shown(house, one.studentId, one.bib)}>
                  {one.since !== null && <span class="figures">{words.safety.outFor(shortDuration(now - one.since))}</span>}
                </StudentCard>
              </li>
            ))}
          </ul>
        </section>
      </div>
    </div>
  )
}

/** The policy that the day pinned: by name, edition and source; an invented one says so. */
export function PolicyInForce({ safety: { policy } }: { safety: SafetyView }) {
  if (!policy) return <p>{words.safety.policyNone}</p>
  const value = (tenths: number) => words.safety.degrees(tenths, policy.unit)
  return (
    <div class="policy">
      <p>
        <strong>{words.safety.policyLine(policy.id, policy.edition)}</strong>
      </p>
      {policy.terms === 'invented' && <Mark state="review" says={words.safety.policyInvented} />}
      <p lang="en" dir="auto">
        {policy.citation}
      </p>
      <ul class="run-sentences">
        <li>{words.safety.policyRaise(value(policy.raise.tenths), policy.raise.included)}</li>
        <li>{words.safety.policyLift(value(policy.lift.tenths), policy.lift.included, policy.dwellMinutes)}</li>
        <li>{words.safety.policyAge(policy.readingAgeMinutes)}</li>
      </ul>
    </div>
  )
}
