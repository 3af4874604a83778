import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import type { Language } from '@musterbook/vocabulary/people'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Frame } from '../parts/frame/frame.tsx'
import { speakAtHome } from '../words/languages.ts'
import { words } from '../words/words.ts'
import { keptLanguage } from './kept-language.ts'
import { Outside } from './shell.tsx'

/** A screen that nobody signs on at: the check-in kiosk and the public board. It has "call staff" instead of the two stops. */
export function KioskShell({
  house,
  screen,
  onCallStaff,
  onLanguage,
  children,
}: {
  house: House
  screen: string
  onCallStaff?: () => void
  /** Given where the screen itself does not belong to one student after the other: what the device speaks. */
  onLanguage?: (language: Language) => void
  children: () => ComponentChildren
}) {
  useEffect(() => void speakAtHome(keptLanguage(undefined)), [])
  const session = house.session.value
  const day = house.day.value
  if (!session?.device || session.device.locked) return <Outside house={house} screen={screen} />
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
      onLanguage={onLanguage}
    >
      {day ? children() : <EmptyState says={words.shell.noDay} help={words.shell.noDayHelp} />}
    </Frame>
  )
}
