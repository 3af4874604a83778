import megaphone from 'lucide-static/icons/megaphone.svg?raw'
import hand from 'lucide-static/icons/hand.svg?raw'
import { Button } from './button.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  kinds: () => (
    <div class="row">
      <Button kind="primary" icon={megaphone}>
        Call up
      </Button>
      <Button>Leave the queue</Button>
      <Button kind="stop" icon={hand}>
        Stop a student
      </Button>
      <Button kind="quiet">Cancel</Button>
    </div>
  ),
  keys: () => (
    <div class="row">
      <Button kind="primary" size="key">
        Good lift
      </Button>
      <Button size="key">No lift</Button>
      <Button size="key" detail="opens the list">
        Wave 2
      </Button>
    </div>
  ),
  'pressed, busy and small': () => (
    <div class="row">
      <Button pressed>Practice</Button>
      <Button pressed={false}>Official</Button>
      <Button kind="primary" busy>
        Saving
      </Button>
      <Button size="small">Details</Button>
    </div>
  ),
}
