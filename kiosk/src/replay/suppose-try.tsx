import { useState } from 'preact/hooks'
import type { Supposition } from '@musterbook/replay/what-if'
import type { StationId, StudentId } from '@musterbook/vocabulary/ids'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { signOf, typedAmount } from '../supervisor/typed-value.ts'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'

interface Props {
  desk: Desk
  studentId: string
  stationId: string
  onSuppose: (suppositions: readonly Supposition[]) => void
}

/** A try that nobody put in. Runs have crossings instead; folds are read one by one. */
export function SupposeTry({ desk, studentId, stationId, onSuppose }: Props) {
  const [typed, type] = useState('')
  const [isWrong, setWrong] = useState(false)
  const { whatIf: say } = words.replay
  const protocol = desk.house.day.value?.stations.find((station) => station.stationId === stationId)?.protocol
  if (!protocol || protocol.kind === 'run' || protocol.kind === 'skinfold') return null
  const add = () => {
    const amount = typedAmount(typed, protocol.unit)
    setWrong(amount === undefined)
    if (amount === undefined) return
    const value = { amount, unit: protocol.unit, resolution: protocol.resolution, method: protocol.timing ?? 'supposed' }
    onSuppose([{ kind: 'insertTry', studentId: studentId as StudentId, stationId: stationId as StationId, value }])
  }
  return (
    <form class="sheet stack" onSubmit={(event) => (event.preventDefault(), add())}>
      <h3>{say.insert}</h3>
      <p>{say.insertHelp}</p>
      <Field
        label={say.insertValue(protocol.name, signOf(protocol.unit))}
        inputMode="decimal"
        value={typed}
        onInput={type}
        error={isWrong ? say.unread : undefined}
      />
      <Button type="submit">{say.addTry}</Button>
    </form>
  )
}
