import { refusal } from '@musterbook/vocabulary/refusals'
import { Button } from '../button/button.tsx'
import { RefusalNotice } from './refusal-notice.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  'a gate is not met': () => <RefusalNotice refusal={refusal('notCleared', { clearance: 'limited', station: 'bench press' })} />,
  'with a way on': () => (
    <RefusalNotice refusal={refusal('outOfContact', { minutes: 5 })}>
      <div>
        <Button kind="primary">Record a radio confirmation</Button>
      </div>
    </RefusalNotice>
  ),
  'a rule that this screen has no words for': () => (
    <RefusalNotice refusal={{ rule: 'someNewRule', params: {}, says: '', next: '', who: '' }} />
  ),
}
