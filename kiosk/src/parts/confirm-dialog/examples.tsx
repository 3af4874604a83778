import { useState } from 'preact/hooks'
import { Button } from '../button/button.tsx'
import { ConfirmDialog } from './confirm-dialog.tsx'
import type { Examples } from '../examples.ts'

function Asked() {
  const [open, setOpen] = useState(false)
  return (
    <>
      <Button onPress={() => setOpen(true)}>Seal the day</Button>
      <ConfirmDialog title="Seal the day?" confirm="Seal" open={open} onConfirm={() => setOpen(false)} onClose={() => setOpen(false)}>
        <p>Nothing more enters the day itself. What comes late stands after the seal and counts only by ruling.</p>
      </ConfirmDialog>
    </>
  )
}

export const examples: Examples = {
  'opens on a press': () => <Asked />,
}
