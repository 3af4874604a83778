import { useState } from 'preact/hooks'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'

interface Props {
  house: House
  view: StationView
  runners: readonly StationStudent[]
  onBriefed: (studentIds: readonly string[]) => void
}

/** Asked for before the first official run; never in the way of a start where the day's rules only ask. */
export function BriefRunners({ view, runners, onBriefed }: Props) {
  const [open, setOpen] = useState(false)
  const unbriefed = runners.filter(({ briefed }) => !briefed)
  if (unbriefed.length === 0) return null
  const { protocol } = view
  return (
    <div class="run-note">
      <Mark state="review" says={words.run.unbriefed(unbriefed.length)} />
      <Button onPress={() => setOpen(true)}>{words.run.brief}</Button>
      <Dialog
        title={words.run.briefTitle}
        open={open}
        onClose={() => setOpen(false)}
        wide
        foot={
          <Button
            kind="primary"
            onPress={() => {
              setOpen(false)
              onBriefed(unbriefed.map(({ studentId }) => studentId))
            }}
          >
            {words.run.briefDone}
          </Button>
        }
      >
        <div class="run-briefing">
          <p>{protocol.measures}</p>
          <Sentences says={protocol.steps} />
          <h3>{words.run.voids}</h3>
          <Sentences says={protocol.voids} />
          <h3>{words.run.stopWhen}</h3>
          <Sentences says={[...protocol.stopWhen, protocol.tellWhom, ...protocol.cautions]} />
        </div>
      </Dialog>
    </div>
  )
}

const Sentences = ({ says }: { says: readonly string[] }) => (
  <ul class="run-sentences" dir="auto">
    {says.map((sentence) => (
      <li key={sentence}>{sentence}</li>
    ))}
  </ul>
)
