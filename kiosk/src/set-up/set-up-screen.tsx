import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Frame } from '../parts/frame/frame.tsx'
import { words } from '../words/words.ts'
import { SetUpForm } from './set-up-form.tsx'
import './set-up.css'

/** The first screen of a new site: used once. */
export function SetUpScreen({ house }: { house: House }) {
  const session = house.session.value
  return (
    <Frame
      screen={words.office.setUp.screen}
      now={house.clock.now}
      zone="UTC"
      contactAgeMs={house.contactAgeMs}
      speed={house.clock.speed}
      caution
    >
      {!session ? (
        <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
      ) : session.setUpNeeded ? (
        <SetUpForm house={house} />
      ) : (
        <EmptyState says={words.office.setUp.done} help={words.office.setUp.doneHelp}>
          <p>
            <a href="/office">{words.office.setUp.toOffice}</a>
          </p>
        </EmptyState>
      )}
    </Frame>
  )
}
