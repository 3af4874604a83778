import type { ComponentChildren } from 'preact'
import { useId, useLayoutEffect, useRef } from 'preact/hooks'
import { shortDuration, wallClock } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import type { HoldShown } from '../hold-strip/hold-strip.tsx'
import { read, type Live } from '../live.ts'
import { Shape } from '../mark/mark.tsx'
import { soundAlarm } from './alarm.ts'
import { Silent } from './sound-off.tsx'
import './hold-notice.css'

export interface HoldNoticeProps {
  hold: HoldShown
  now: Live<number>
  zone: string
  /** Bibs of those under way here when it was raised. */
  underWay: readonly string[]
  /** The hold and a start could not be ordered. */
  orderUnknown?: boolean | undefined
  onAcknowledge: () => void
  /** What to do with those under way, where this screen decides it. */
  children?: ComponentChildren
}

/** Fills the screen when a hold lands on a station under way. Heard and felt too, and gone only when somebody says that they heard. */
export function HoldNotice({ hold, now, zone, underWay, orderUnknown, onAcknowledge, children }: HoldNoticeProps) {
  const dialog = useRef<HTMLDialogElement>(null)
  const id = useId()
  useLayoutEffect(() => {
    const shown = dialog.current
    if (!shown) return
    const show = () => {
      if (shown.isConnected && !shown.open) shown.showModal()
    }
    show()
    // A browser lets a second Escape or a back gesture through whatever the page says: then it is opened again.
    shown.addEventListener('close', show)
    const hush = soundAlarm()
    return () => {
      hush()
      shown.removeEventListener('close', show)
      shown.close()
    }
  }, [hold.holdId])

  return (
    <dialog
      ref={dialog}
      class="hold-notice"
      role="alertdialog"
      aria-labelledby={id}
      aria-describedby={`${id}-what`}
      onCancel={(event) => event.preventDefault()}
    >
      <div class="hold-notice-stripes" aria-hidden="true" />
      <div class="hold-notice-body">
        <h2 id={id} class="hold-notice-stop">
          <Shape state="hold" />
          {words.hold.title}
        </h2>
        <div id={`${id}-what`} class="hold-notice-what">
          <p class="hold-notice-zone">{words.hold.zone(hold.zone ?? words.raiseHold.wholeSite)}</p>
          <p>
            {words.hold.reason(words.raiseHold.kinds[hold.kind])}. {words.hold.raised(wallClock(hold.since, zone, true), hold.by)},{' '}
            <Age since={hold.since} now={now} />.
          </p>
          {hold.because && <p>{hold.because}</p>}
          {underWay.length > 0 && (
            <p class="hold-notice-bibs figures">
              <span>{words.hold.underWay(underWay.length)}:</span>{' '}
              {underWay.map((bib) => (
                <strong key={bib}>{words.common.bib(bib)}</strong>
              ))}
            </p>
          )}
          {orderUnknown && <p>{words.hold.orderUnknown}</p>}
          <Silent />
        </div>
        {children}
        <Button size="key" kind="primary" wide onPress={onAcknowledge}>
          {words.hold.acknowledge}
        </Button>
        <p>{words.caution.defers}</p>
      </div>
      <div class="hold-notice-stripes" aria-hidden="true" />
    </dialog>
  )
}

function Age({ since, now }: { since: number; now: Live<number> }) {
  return <span class="figures">{words.common.ago(shortDuration(read(now) - since))}</span>
}
