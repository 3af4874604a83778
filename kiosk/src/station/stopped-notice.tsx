import { useLayoutEffect, useRef, useState } from 'preact/hooks'
import { Button } from '../parts/button/button.tsx'
import { soundAlarm } from '../parts/hold-notice/alarm.ts'
import { Silent } from '../parts/hold-notice/sound-off.tsx'
import { Shape } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'

interface Props {
  attemptId: string
  bib: string | null
  name: string
  because: 'medicalStop' | 'withdrawal'
  onCard: () => void
}

/** Medical, or the student, has ended what is under way here: it fills the screen with sound, as a hold does, until somebody says that they heard. */
export function StoppedNotice({ attemptId, bib, name, because, onCard }: Props) {
  const dialog = useRef<HTMLDialogElement>(null)
  const [heard, hear] = useState<string | undefined>(undefined)
  const open = heard !== attemptId
  useLayoutEffect(() => {
    const shown = dialog.current
    if (!shown || !open) return
    if (!shown.open) shown.showModal()
    return soundAlarm()
  }, [attemptId, open])
  if (!open) return null
  return (
    <dialog
      ref={dialog}
      class="hold-notice stop-notice"
      role="alertdialog"
      aria-labelledby={`stopped-${attemptId}`}
      onCancel={(event) => event.preventDefault()}
    >
      <div class="hold-notice-body">
        <h2 id={`stopped-${attemptId}`} class="hold-notice-stop">
          <Shape state="stopped" />
          {words.station.stopNow(bib ?? name)}
        </h2>
        <div class="hold-notice-what">
          <p class="hold-notice-zone">{name}</p>
          <p>{because === 'medicalStop' ? words.station.endedByMedical : words.station.endedByStudent}</p>
          <Silent />
        </div>
        {because === 'medicalStop' && <Button onPress={onCard}>{words.frame.card}</Button>}
        <Button size="key" kind="primary" wide onPress={() => hear(attemptId)}>
          {words.hold.acknowledge}
        </Button>
      </div>
    </dialog>
  )
}
