import { useState } from 'preact/hooks'
import { Button } from '../button/button.tsx'
import { HoldDialog } from './hold-dialog.tsx'
import type { Examples } from '../examples.ts'

const zones = [
  { zoneId: 'track', name: 'Track' },
  { zoneId: 'yard', name: 'Yard' },
]

function Opened() {
  const [open, setOpen] = useState(false)
  return (
    <>
      <Button onPress={() => setOpen(true)}>Raise a hold</Button>
      <HoldDialog open={open} zones={zones} here="track" onRaise={() => undefined} onClose={() => setOpen(false)} />
    </>
  )
}

export const examples: Examples = {
  'opens on a press': () => <Opened />,
}
