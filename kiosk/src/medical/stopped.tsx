import { useState } from 'preact/hooks'
import type { MedicalStudent } from '@musterbook/day/views/medical'
import { Button } from '../parts/button/button.tsx'
import { ConfirmDialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { tell } from '../shell/shell.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { About } from './student-file.tsx'

/** A medical stop in force: since when, where, who has answered; only here does it end. */
export function Stopped({ house, studentId, who, stop }: About & { stop: NonNullable<MedicalStudent['stop']> }) {
  const [asking, ask] = useState(false)
  const zone = house.day.value?.timeZone ?? 'UTC'
  const has = (answer: string) => stop.answers.find((one) => one.answer === answer)
  const answer = (what: 'acknowledged' | 'arrived', says: string) =>
    void tell(house, `${says}: ${who}`, 'answerStop', { studentId, answer: what })
  return (
    <section class="medical-stop stack" aria-labelledby="stop">
      <h3 id="stop" class="figures">
        {words.medical.stoppedSince(wallClock(stop.since, zone), shortDuration(house.clock.now.value - stop.since))}
      </h3>
      {stop.zone && <p>{words.medical.where(stop.zone)}</p>}
      {(['acknowledged', 'arrived'] as const).map((what) => {
        const said = has(what)
        return said && <p key={what} class="figures">{`${words.medical[what]} ${wallClock(said.at, zone, true)}`}</p>
      })}
      <div class="row">
        {!has('acknowledged') && (
          <Button kind="primary" onPress={() => answer('acknowledged', words.medical.acknowledged)}>
            {words.medical.acknowledge}
          </Button>
        )}
        {!has('arrived') && (
          <Button kind={has('acknowledged') ? 'primary' : 'normal'} onPress={() => answer('arrived', words.medical.arrived)}>
            {words.medical.arrive}
          </Button>
        )}
        <Button onPress={() => ask(true)}>{words.medical.restore}</Button>
      </div>
      <ConfirmDialog
        title={words.medical.restoreTitle(who)}
        open={asking}
        confirm={words.medical.restore}
        onConfirm={() => {
          ask(false)
          void tell(house, words.medical.restored(who), 'restore', { studentId })
        }}
        onClose={() => ask(false)}
      >
        <p>{words.medical.restoreHelp}</p>
      </ConfirmDialog>
    </section>
  )
}
