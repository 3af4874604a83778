import type { ComponentChildren } from 'preact'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Frame } from '../parts/frame/frame.tsx'
import { words } from '../words/words.ts'
import { Outside } from './shell.tsx'

/** A screen that nobody signs on at: the check-in kiosk and the public board. It has "call staff" instead of the two stops. */
export function KioskShell({
  house,
  screen,
  onCallStaff,
  children,
}: {
  house: House
  screen: string
  onCallStaff?: () => void
  children: () => ComponentChildren
}) {
  const session = house.session.value
  const day = house.day.value
  if (!session?.device) return <Outside house={house} screen={screen} />
  return (
    <Frame
      screen={screen}
      place={day?.title}
      now={house.clock.now}
      zone={day?.timeZone ?? 'UTC'}
      contactAgeMs={house.contactAgeMs}
      contactLimitMs={day?.contactAgeMs}
      rehearsal={day?.rehearsal}
      speed={house.clock.speed}
      onCallStaff={onCallStaff}
    >
      {day ? children() : <EmptyState says={words.shell.noDay} help={words.shell.noDayHelp} />}
    </Frame>
  )
}
