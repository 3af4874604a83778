import { Button } from '../button/button.tsx'
import { SaidNotice } from './said-notice.tsx'
import type { Examples } from '../examples.ts'

const at = Date.UTC(2026, 4, 11, 8, 20, 14)
const shared = { what: 'Reach 38.0 cm, #101', at, zone: 'Europe/Oslo' }

export const examples: Examples = {
  'in the record': () => (
    <SaidNotice {...shared} said="recorded" version={412}>
      <Button>Undo: 8 s</Button>
    </SaidNotice>
  ),
  'kept on this tablet': () => <SaidNotice {...shared} said="kept" />,
  'recorded, waits for a ruling': () => <SaidNotice {...shared} said="recorded" version={413} review />,
}
