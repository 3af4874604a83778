import type { MedicalView } from '@musterbook/day/views/medical'
import type { House } from '../house/house.ts'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { Medical } from './medical.tsx'
import './medical.css'

/** The screener's desk, and nobody else's. */
export function MedicalScreen({ house }: { house: House }) {
  return (
    <Shell house={house} screen={words.medical.title} roles={['screener']} englishOnly needsSite>
      {() => {
        const view = house.view<MedicalView>('medical').view.value
        return view ? <Medical house={house} view={view} /> : <EmptyState says={words.shell.reaching} help={words.shell.reachingHelp} />
      }}
    </Shell>
  )
}
