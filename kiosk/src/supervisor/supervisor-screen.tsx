import { useState } from 'preact/hooks'
import type { BoardView } from '@musterbook/day/views/board'
import type { InboxView } from '@musterbook/day/views/inbox'
import type { House } from '../house/house.ts'
import { Devices } from '../office/devices.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { Board } from './board.tsx'
import { Inbox } from './inbox.tsx'
import { Record } from './record.tsx'
import { SealPart } from './seal.tsx'
import { Staff } from './staff.tsx'
import { WhatIsLeft } from './what-is-left.tsx'
import './supervisor.css'

type Part = keyof typeof words.supervisor.tabs
const parts: readonly Part[] = ['board', 'inbox', 'outlook', 'staff', 'record', 'devices', 'seal']

/** The whole day in one place. The address keeps the part and the student, so that an interruption ends where it began. */
export function SupervisorScreen({ house }: { house: House }) {
  const [{ part, studentId }, go] = useState(whereIn(location.hash))
  const open = (part: Part, studentId: string | null = null) => {
    go({ part, studentId })
    history.replaceState(null, '', `${location.search}#${part}${studentId ? `/${encodeURIComponent(studentId)}` : ''}`)
  }
  const record = (studentId: string | null) => open('record', studentId)
  return (
    <Shell house={house} screen={words.supervisor.title} roles={['supervisor', 'coordinator', 'auditor']} englishOnly needsSite>
      {() => {
        const board = house.view<BoardView>('board').view.value
        const inbox = house.view<InboxView>('inbox').view.value
        if (!board || !inbox) return <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
        return (
          <div class="stack">
            <div class="supervisor-top">
              <Tabs
                label={words.supervisor.sections}
                value={part}
                choices={parts.map((value) => ({
                  value,
                  says: words.supervisor.tabs[value],
                  ...(value === 'inbox' && { detail: words.supervisor.waiting(inbox.items.length) }),
                }))}
                onChange={(value) => open(value as Part)}
              />
              <a class="inbox-link" href={replayAt(house)}>
                {words.supervisor.toReplay}
              </a>
              {house.days.value.length > 1 && <ChooseDay house={house} />}
            </div>
            {!house.session.value?.person?.roles.includes('supervisor') && <p class="quiet">{words.supervisor.readOnly}</p>}
            {part === 'board' && <Board house={house} board={board} onOpen={record} />}
            {part === 'inbox' && <Inbox house={house} inbox={inbox} onOpen={record} />}
            {part === 'outlook' && <WhatIsLeft house={house} board={board} />}
            {part === 'staff' && <Staff house={house} />}
            {part === 'record' && <Record house={house} board={board} studentId={studentId} onOpen={record} />}
            {part === 'devices' && <Devices house={house} />}
            {part === 'seal' && <SealPart house={house} board={board} inbox={inbox} onOpen={record} onInbox={() => open('inbox')} />}
          </div>
        )
      }}
    </Shell>
  )
}

/** The replay desk, at the moment that this screen shows. */
function replayAt(house: House): string {
  const position = house.view('board').version.value ?? ''
  return `/replay?day=${encodeURIComponent(house.day.value?.dayId ?? '')}#part=moment&position=${position}`
}

function whereIn(hash: string): { part: Part; studentId: string | null } {
  const [part, studentId] = hash.slice(1).split('/')
  return { part: parts.find((one) => one === part) ?? 'board', studentId: studentId ? decodeURIComponent(studentId) : null }
}

/** Another day is opened anew: every view on this page belongs to one. */
function ChooseDay({ house }: { house: House }) {
  const { supervisor } = words
  return (
    <Choice
      label={supervisor.chooseDay}
      value={house.day.value?.dayId ?? ''}
      choices={house.days.value.map((day) => ({ value: day.dayId, says: `${day.title}, ${day.date}, ${supervisor.dayState[day.state]}` }))}
      onChange={(dayId) => location.assign(`${location.pathname}?day=${encodeURIComponent(dayId)}`)}
    />
  )
}
