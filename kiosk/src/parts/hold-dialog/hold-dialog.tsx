import { useEffect, useState } from 'preact/hooks'
import type { HoldKind } from '@musterbook/vocabulary/hold'
import { words } from '../../words/words.ts'
import { Dialog } from '../confirm-dialog/confirm-dialog.tsx'
import { Tabs } from '../tabs/tabs.tsx'
import './hold-dialog.css'

export interface HoldDialogProps {
  open: boolean
  zones: readonly { zoneId: string; name: string }[]
  /** Where this screen stands: chosen at first, so that one touch more raises the hold. Nothing means everywhere outdoors. */
  here: string | null
  onRaise: (hold: { kind: HoldKind; zoneId: string | null }) => void
  onClose: () => void
}

const everywhere = ''
const kinds: readonly HoldKind[] = ['heat', 'lightning', 'air', 'cold', 'other']

/** The second of the two touches that raise a hold. Raising never asks twice; lifting does. */
export function HoldDialog({ open, zones, here, onRaise, onClose }: HoldDialogProps) {
  const [zoneId, choose] = useState(here ?? everywhere)
  useEffect(() => choose(here ?? everywhere), [open, here])
  const zoneName = zones.find((zone) => zone.zoneId === zoneId)?.name ?? words.raiseHold.wholeSite

  return (
    <Dialog title={words.raiseHold.title} open={open} onClose={onClose} kind="hold" wide>
      <Tabs
        label={words.raiseHold.zone}
        value={zoneId}
        choices={[
          ...zones.map((zone) => ({ value: zone.zoneId, says: zone.name })),
          { value: everywhere, says: words.raiseHold.wholeSite },
        ]}
        onChange={choose}
      />
      <ul class="hold-kinds">
        {kinds.map((kind) => (
          <li key={kind}>
            <button
              type="button"
              class="button button-key hold-kind"
              aria-label={words.raiseHold.raise(words.raiseHold.kinds[kind], zoneName)}
              onClick={() => {
                onRaise({ kind, zoneId: zoneId === everywhere ? null : zoneId })
                onClose()
              }}
            >
              <span class="button-words">
                <span class="button-word">{words.raiseHold.kinds[kind]}</span>
                <span class="button-detail">{zoneName}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
      <p>{words.raiseHold.help}</p>
    </Dialog>
  )
}
