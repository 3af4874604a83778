import { useState } from 'preact/hooks'
import { Tabs } from './tabs.tsx'
import type { Examples } from '../examples.ts'

function Kind() {
  const [kind, choose] = useState('official')
  return (
    <Tabs
      label="Kind of try"
      labelled
      value={kind}
      onChange={choose}
      choices={[
        { value: 'official', says: 'Official', detail: 'Try 2 of 3' },
        { value: 'practice', says: 'Practice', detail: 'Never counts' },
      ]}
    />
  )
}

export const examples: Examples = {
  'official or practice': () => <Kind />,
}
