import type { Fetched } from './fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { words } from '../words/words.ts'

/** In place of a list that has not been heard, or could not be. */
export function Waits({ on }: { on: Pick<Fetched<unknown>, 'failed' | 'refresh'> }) {
  return on.failed ? (
    <EmptyState says={words.office.noAnswer}>
      <Button onPress={() => void on.refresh()}>{words.office.again}</Button>
    </EmptyState>
  ) : (
    <p role="status">{words.office.loading}</p>
  )
}
