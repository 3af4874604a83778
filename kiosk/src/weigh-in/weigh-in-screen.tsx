import type { WeighInView } from '@musterbook/day/views/weigh-in'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { WeighIn } from './weigh-in.tsx'
import './weigh-in.css'

/** The weigh-in desk: one scale, one student after the other, each value for their eyes. */
export function WeighInScreen({ house }: { house: House }) {
  return (
    <Shell house={house} screen={words.weighIn.title} roles={['screener', 'station', 'supervisor']}>
      {() => {
        const view = house.view<WeighInView>('weighIn').view.value
        return view ? <WeighIn house={house} view={view} /> : <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
      }}
    </Shell>
  )
}
