import { useState } from 'preact/hooks'
import { Button } from '../button/button.tsx'
import type { StudentShown } from '../student-card/student-card.tsx'
import { StopDialog } from './stop-dialog.tsx'
import type { Examples } from '../examples.ts'

const students = [
  { id: 's-115', name: 'Sunniva Okoro-Lindqvist', bib: '115' },
  { id: 's-101', name: 'Ada Marsh', bib: '101', lookAlike: true },
  { id: 's-104', name: 'Marek Dahl', bib: '104' },
]

const wave = Array.from({ length: 14 }, (_, i) => ({
  id: `s-${104 + i}`,
  name: ['Marek Dahl', 'Ada Marsh', 'Sunniva Okoro-Lindqvist'][i % 3] ?? '',
  bib: String(104 + i),
}))

function Opened({ students }: { students: readonly StudentShown[] }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <Button kind="stop" onPress={() => setOpen(true)}>
        Stop a student
      </Button>
      <StopDialog open={open} students={students} onStop={() => undefined} onClose={() => setOpen(false)} />
    </>
  )
}

export const examples: Examples = {
  'opens on a press': () => <Opened students={students} />,
  'a wave of fourteen': () => <Opened students={wave} />,
}
