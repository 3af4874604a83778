import { signal, type ReadonlySignal } from '@preact/signals'
import type { ObservationId } from '@musterbook/vocabulary/ids'
import { newId } from '../shell/shell.tsx'
import type { House } from './house.ts'

export interface Call {
  /** The call of this screen that was last made; nothing while there was none. */
  callId: ReadonlySignal<string | undefined>
  call(): void
  /** Nobody needs to be told any more that somebody was called. */
  forget(): void
}

/** The hand that a kiosk or a board can raise. */
export function openCall(house: House): Call {
  const callId = signal<string | undefined>(undefined)
  return {
    callId,
    call: () => {
      callId.value = newId('call')
      void house.tell('callStaff', { callId: callId.value as ObservationId })
    },
    forget: () => (callId.value = undefined),
  }
}
