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

const others = Array.from({ length: 40 }, (_, i) => String(118 + i))

function Opened({ students, others }: { students: readonly StudentShown[]; others?: readonly string[] }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <Button kind="stop" onPress={() => setOpen(true)}>
        Stop a student
      </Button>
      <StopDialog open={open} students={students} others={others} onStop={() => undefined} onClose={() => setOpen(false)} />
    </>
  )
}

export const examples: Examples = {
  'opens on a press': () => <Opened students={students} />,
  'nobody under way here': () => <Opened students={[]} others={others} />,
  'a wave of fourteen': () => <Opened students={wave} />,
}
