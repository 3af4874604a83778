import { useState } from 'preact/hooks'
import { Button } from '../button/button.tsx'
import { StopDialog } from './stop-dialog.tsx'
import type { Examples } from '../examples.ts'

const students = [
  { id: 's-115', name: 'Sunniva Okoro-Lindqvist', bib: '115' },
  { id: 's-101', name: 'Ada Marsh', bib: '101', lookAlike: true },
  { id: 's-104', name: 'Marek Dahl', bib: '104' },
]

function Opened() {
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
  'opens on a press': () => <Opened />,
}
