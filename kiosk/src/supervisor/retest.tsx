import { useState } from 'preact/hooks'
import type { RecordView } from '@musterbook/day/views/record'
import type { EntitlementId, StationId, StudentId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Field, Tick } from '../parts/field/field.tsx'
import { newId, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'

/** A right to repeat: which stations, until when, and why. The old attempts remain. */
export function RetestDialog({ house, record, onClose }: { house: House; record: RecordView; onClose: () => void }) {
  const [stations, choose] = useState<readonly string[]>([])
  const [until, setUntil] = useState('')
  const [reason, write] = useState('')
  const [wrong, setWrong] = useState('')
  const { record: say } = words.supervisor
  const grant = () => {
    if (stations.length === 0 || !until || reason.trim() === '') return setWrong(words.office.setUp.missing)
    onClose()
    void tell(house, say.granted, 'grantRetest', {
      entitlementId: newId('entitlement') as EntitlementId,
      studentId: record.studentId as StudentId,
      stationIds: stations as StationId[],
      until,
      reason: reason.trim(),
    })
  }
  return (
    <Dialog
      title={say.grant}
      open
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={grant}>
          {say.grant}
        </Button>
      }
    >
      <div class="stack">
        <fieldset>
          <legend class="office-legend">{say.grantStations}</legend>
          <div class="office-ticks">
            {record.stations.map(({ stationId, name }) => (
              <Tick
                key={stationId}
                says={name}
                checked={stations.includes(stationId)}
                onChange={(on) => choose(on ? [...stations, stationId] : stations.filter((one) => one !== stationId))}
              />
            ))}
          </div>
        </fieldset>
        <Field label={say.grantUntil} type="date" value={until} onInput={setUntil} />
        <Field label={say.grantReason} long value={reason} onInput={write} maxLength={2000} error={wrong || undefined} />
      </div>
    </Dialog>
  )
}
