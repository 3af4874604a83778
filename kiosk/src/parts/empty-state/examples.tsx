import { Button } from '../button/button.tsx'
import { EmptyState } from './empty-state.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  'with help': () => <EmptyState says="Nobody is waiting" help="Students join when they are cleared and have warmed up." />,
  'with something to do': () => (
    <EmptyState says="No roster yet">
      <div>
        <Button kind="primary">Choose a file</Button>
      </div>
    </EmptyState>
  ),
}
