import type { FloorView } from '@musterbook/day/views/board'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { Floor } from './floor.tsx'
import './floor.css'

/** For the greeter, the warm-up and whoever walks the floor: everybody's way from the door to the stations and home. */
export function FloorScreen({ house }: { house: House }) {
  return (
    <Shell house={house} screen={words.floor.title} roles={['greeter', 'station', 'screener', 'safety', 'supervisor', 'coordinator']}>
      {() => {
        const view = house.view<FloorView>('floor').view.value
        return view ? <Floor house={house} view={view} /> : <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
      }}
    </Shell>
  )
}
