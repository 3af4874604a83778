import { useLayoutEffect, useRef } from 'preact/hooks'
import ear from 'lucide-static/icons/ear-off.svg?raw'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'

interface Props {
  bib: string | null
  says: string
  disputed: boolean
  /** None where there is no value to have heard wrongly. */
  onDispute: (() => void) | undefined
  onClose: () => void
}

/** The whole screen for the student across the table: upside down to whoever holds the tablet, who has one key at their own edge. */
export function Turned({ bib, says, disputed, onDispute, onClose }: Props) {
  const dialog = useRef<HTMLDialogElement>(null)
  useLayoutEffect(() => dialog.current?.showModal(), [])
  return (
    <dialog ref={dialog} class="turned" aria-label={words.station.readBack} onClose={onClose}>
      <div class="turned-student">
        <p class="turned-bib figures">{words.common.bib(bib ?? '?')}</p>
        <p class="turned-value figures" data-long={says.length > 9 || undefined}>
          {says}
        </p>
        {disputed ? (
          <p role="status">{words.station.disputed}</p>
        ) : (
          onDispute && (
            <Button size="key" icon={ear} onPress={onDispute}>
              {words.station.notHeard}
            </Button>
          )
        )}
      </div>
      <Button wide onPress={onClose}>
        {words.station.turnBack}
      </Button>
    </dialog>
  )
}
