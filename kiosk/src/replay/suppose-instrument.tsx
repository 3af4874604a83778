import { useState } from 'preact/hooks'
import type { Supposition } from '@musterbook/replay/what-if'
import type { EquipmentId, StudentId } from '@musterbook/vocabulary/ids'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'

interface Props {
  desk: Desk
  studentId: string
  onSuppose: (suppositions: readonly Supposition[]) => void
}
type Model = keyof typeof words.replay.whatIf.models

/** A scale that was off, and how: nothing is computed before the error is named. */
export function SupposeInstrument({ desk, studentId, onSuppose }: Props) {
  const scales = [
    ...new Set([...desk.now.students.values()].flatMap((student) => student.weighIns.map(({ scaleId }) => scaleId as string))),
  ]
  const own = desk.now.students.get(studentId as StudentId)?.weighIns.at(-1)?.scaleId
  const [scale, choose] = useState<string>(own ?? scales[0] ?? '')
  const [model, name] = useState<Model | ''>('')
  const [typed, type] = useState('')
  const [isWrong, setWrong] = useState(false)
  const { whatIf: say } = words.replay
  if (scales.length === 0) return null
  const add = () => {
    const amount = Number(typed.replace(',', '.'))
    const isRead = typed.trim() !== '' && Number.isFinite(amount) && model !== ''
    setWrong(!isRead)
    if (!isRead) return
    onSuppose([
      {
        kind: 'instrument',
        equipmentId: scale as EquipmentId,
        model: model === 'constant' ? { constant: Math.round(amount) } : { proportionalMillionths: Math.round(amount * 10_000) },
      },
    ])
  }
  return (
    <form class="sheet stack" onSubmit={(event) => (event.preventDefault(), add())}>
      <h3>{say.instrument}</h3>
      <Choice label={say.equipment} value={scale} choices={scales.map((value) => ({ value, says: value }))} onChange={choose} />
      <Tabs
        label={say.model}
        labelled
        value={model}
        choices={(Object.keys(say.models) as Model[]).map((value) => ({ value, says: say.models[value] }))}
        onChange={(value) => name(value as Model)}
      />
      <Field
        label={model === 'proportional' ? say.proportional : say.constant}
        inputMode="decimal"
        value={typed}
        onInput={type}
        error={isWrong ? say.unread : undefined}
      />
      <Button type="submit">{say.addInstrument}</Button>
    </form>
  )
}
