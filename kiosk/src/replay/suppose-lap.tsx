import { useState } from 'preact/hooks'
import type { Attempt } from '@musterbook/day/day'
import type { Supposition } from '@musterbook/replay/what-if'
import type { StudentId } from '@musterbook/vocabulary/ids'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'

interface Props {
  attempts: readonly Attempt[]
  studentId: string
  onSuppose: (suppositions: readonly Supposition[]) => void
}

/** A crossing that nobody tapped, where the student ran in a wave. */
export function SupposeLap({ attempts, studentId, onSuppose }: Props) {
  const [typed, type] = useState('')
  const [isWrong, setWrong] = useState(false)
  const { whatIf: say } = words.replay
  const waveId = attempts.findLast((attempt) => attempt.waveId !== null)?.waveId
  if (!waveId) return null
  const add = () => {
    const elapsedMs = elapsedOf(typed)
    setWrong(elapsedMs === undefined)
    if (elapsedMs !== undefined) onSuppose([{ kind: 'inferLap', waveId, studentId: studentId as StudentId, elapsedMs }])
  }
  return (
    <form class="sheet stack" onSubmit={(event) => (event.preventDefault(), add())}>
      <h3>{say.lap}</h3>
      <Field label={say.lapAt} value={typed} onInput={type} error={isWrong ? say.unread : undefined} />
      <Button type="submit">{say.addLap}</Button>
    </form>
  )
}

/** '6:03' or '6:03.4', in ms. */
function elapsedOf(typed: string): number | undefined {
  const parts = /^(\d{1,2}):([0-5]\d)(?:[.,](\d))?$/.exec(typed.trim())
  return parts ? (Number(parts[1]) * 60 + Number(parts[2])) * 1000 + Number(parts[3] ?? 0) * 100 : undefined
}
