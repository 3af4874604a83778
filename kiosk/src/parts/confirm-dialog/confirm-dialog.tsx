import type { ComponentChildren } from 'preact'
import { useLayoutEffect, useId, useRef } from 'preact/hooks'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import './confirm-dialog.css'

export interface DialogProps {
  title: string
  open: boolean
  onClose: () => void
  children: ComponentChildren
  /** Fills the width of the tablet: for lists of people. */
  wide?: boolean
  kind?: 'normal' | 'stop' | 'hold'
  /** The way out; where there is nothing to cancel, it is closed. */
  leave?: string
  /** What stands at the foot beside "Cancel". */
  foot?: ComponentChildren
}

/** The native dialog: focus stays inside, Escape closes, the rest of the page is inert. */
export function Dialog({ title, open, onClose, children, wide, kind = 'normal', leave = words.common.cancel, foot }: DialogProps) {
  const dialog = useRef<HTMLDialogElement>(null)
  const id = useId()
  useLayoutEffect(() => {
    if (open && !dialog.current?.open) dialog.current?.showModal()
    if (!open && dialog.current?.open) dialog.current.close()
  }, [open])

  return (
    <dialog ref={dialog} class={`dialog dialog-${kind}${wide ? ' dialog-wide' : ''}`} aria-labelledby={id} onClose={onClose}>
      {open && (
        <>
          <h2 id={id} class="dialog-title">
            {title}
          </h2>
          <div class="dialog-body">{children}</div>
          <div class="dialog-foot">
            <Button onPress={onClose}>{leave}</Button>
            {foot}
          </div>
        </>
      )}
    </dialog>
  )
}

export interface ConfirmDialogProps {
  title: string
  /** What will be in force, for whom, and that it is kept. */
  children: ComponentChildren
  open: boolean
  confirm: string
  kind?: 'normal' | 'stop'
  busy?: boolean
  onConfirm: () => void
  onClose: () => void
}

/** Asks once more, for what cannot be taken back in one touch. Stopping somebody never asks. */
export function ConfirmDialog({ confirm, kind = 'normal', busy, onConfirm, ...rest }: ConfirmDialogProps) {
  return (
    <Dialog
      {...rest}
      kind={kind}
      foot={
        <Button kind={kind === 'stop' ? 'stop' : 'primary'} busy={busy} onPress={onConfirm}>
          {confirm}
        </Button>
      }
    />
  )
}
