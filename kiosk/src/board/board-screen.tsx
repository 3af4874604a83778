import { useState } from 'preact/hooks'
import type { PublicView } from '@musterbook/day/views/board'
import { openCall } from '../house/call-staff.ts'
import type { House } from '../house/house.ts'
import { KioskShell } from '../shell/kiosk-shell.tsx'
import { keepLanguage } from '../shell/kept-language.ts'
import { words } from '../words/words.ts'
import { Board } from './board.tsx'
import './board.css'

/** The board on the wall: who is called where. It cannot be touched but for the hand. */
export function BoardScreen({ house }: { house: House }) {
  const [call] = useState(() => openCall(house))
  return (
    <KioskShell
      house={house}
      screen={words.board.title}
      onCallStaff={call.call}
      onLanguage={(language) => keepLanguage(undefined, language)}
    >
      {() => {
        const view = house.view<PublicView>('public').view.value
        return (
          <>
            {call.callId.value !== undefined && (
              <p role="status" class="board-hand">
                {words.board.called}
              </p>
            )}
            {view && <Board view={view} now={house.clock.now} zone={house.day.value?.timeZone ?? 'UTC'} />}
          </>
        )
      }}
    </KioskShell>
  )
}
