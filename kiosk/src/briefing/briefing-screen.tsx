import type { FloorView } from '@musterbook/day/views/board'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { Briefing } from './briefing.tsx'
import './briefing.css'

/** What a class is told before its tests, on a big screen, and who heard it. */
export function BriefingScreen({ house }: { house: House }) {
  return (
    <Shell house={house} screen={words.briefing.title} roles={['station', 'supervisor', 'coordinator']}>
      {() => {
        const view = house.view<FloorView>('floor').view.value
        return view ? <Briefing house={house} view={view} /> : <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
      }}
    </Shell>
  )
}
