import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { StopNotice } from '../shell/stop-notice.tsx'
import { LastTold, Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { useContacts } from './contacts.ts'
import { Ages } from './ages.tsx'
import { DayOfHeat } from './day-of-heat.tsx'
import { Dispose } from './dispose.tsx'
import { Holds } from './holds.tsx'
import { metersOf } from './meters.ts'
import { Newest } from './newest.tsx'
import { Now } from './now.tsx'
import { People } from './people.tsx'
import { ReadingEntry } from './reading-entry.tsx'
import { RollCall } from './roll-call-page.tsx'
import './safety.css'

export type Page = (typeof pages)[number]
const pages = ['reading', 'heard', 'people', 'now', 'holds', 'day'] as const

/** What the safety officer walks with: one hand, the newest reading always in sight. */
export function SafetyScreen({ house }: { house: House }) {
  const [page, turn] = useState<Page>('now')
  const safety = house.day.value && house.view<SafetyView>('safety').view.value
  const contacts = useContacts(house)
  // Asked for on any page: where a reading is taken there may be no contact.
  const meters = safety ? metersOf(house, safety) : undefined
  const open = safety?.holds.filter((hold) => !hold.lifted) ?? []
  const zoneId = safety?.zones.find(({ outdoor }) => outdoor)?.zoneId ?? null

  return (
    <>
      <Shell
        house={house}
        screen={words.safety.title}
        roles={['safety', 'supervisor', 'coordinator']}
        zoneId={zoneId}
        here={safety?.outdoors ?? []}
        sounds
        ownAnswers
      >
        {() =>
          !safety ? (
            <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
          ) : (
            <div class="safety" data-page={page}>
              <Newest house={house} safety={safety} />
              <Ages house={house} safety={safety} contacts={contacts} />
              <nav class="safety-pages">
                <Tabs
                  label={words.safety.parts}
                  value={page}
                  choices={pages.map((value) => ({
                    value,
                    says: words.safety.tab[value],
                    ...(value === 'holds' && open.length > 0 && { detail: words.states.hold }),
                  }))}
                  onChange={(value) => turn(value as Page)}
                />
              </nav>
              <div class="safety-page">
                <LastTold house={house} />
                {page === 'now' && <Now house={house} safety={safety} contacts={contacts} onGo={turn} />}
                {page === 'reading' && <ReadingEntry house={house} safety={safety} meters={meters} />}
                {page === 'holds' && <Holds house={house} safety={safety} contacts={contacts} onGo={turn} />}
                {page === 'heard' && <RollCall house={house} safety={safety} contacts={contacts} />}
                {page === 'people' && <People house={house} safety={safety} />}
                {page === 'day' && <DayOfHeat house={house} safety={safety} contacts={contacts} />}
              </div>
            </div>
          )
        }
      </Shell>
      <StopNotice house={house} zoneId={null}>
        {(hold) => (hold.dispositionDue > 0 && house.session.value?.person ? <Dispose house={house} hold={hold} brief /> : null)}
      </StopNotice>
    </>
  )
}
