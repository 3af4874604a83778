import { render } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import type { PinnedEmergencyCard } from '@musterbook/vocabulary/emergency-card'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { EmergencyCard } from '../parts/emergency-card/emergency-card.tsx'
import { emergencyCardWords } from '../words/emergency-card.ts'
import { spokenLanguage } from '../words/languages.ts'
import { words } from '../words/words.ts'

export interface CardFrom {
  /** What the day pinned; undefined: it pinned none, or there is no day. */
  pinned: PinnedEmergencyCard | undefined
  /** The one in force at the site now; undefined: the site was not reached. */
  askNewest: () => Promise<PinnedEmergencyCard | null | undefined>
  nameOf: (personId: string) => string
}

let place: HTMLElement | undefined

/** Opens the site's emergency card over whatever stands on the screen: at once from this device's own copy, then the newest if the site is reached. */
export function showCard(from: CardFrom): void {
  place ??= document.body.appendChild(document.createElement('div'))
  render(<CardDialog from={from} onClose={() => render(null, place!)} />, place)
}

function CardDialog({ from, onClose }: { from: CardFrom; onClose: () => void }) {
  const [newest, hear] = useState<PinnedEmergencyCard | null | undefined>(undefined)
  useEffect(() => void from.askNewest().then(hear), [])
  const { pinned, nameOf } = from
  const isNewer = !!newest && newest.edition !== pinned?.edition
  return (
    <Dialog title={emergencyCardWords[spokenLanguage.value].title} open wide onClose={onClose} leave={words.common.close}>
      <EmergencyCard
        card={isNewer ? newest : (pinned ?? null)}
        pinned={isNewer ? (pinned?.edition ?? null) : undefined}
        nameOf={nameOf}
        onPrint={newest ? '/sheets/emergency-card' : undefined}
      />
    </Dialog>
  )
}
