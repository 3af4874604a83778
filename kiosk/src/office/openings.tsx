import { useState } from 'preact/hooks'
import type { EmergencyOpening, Person } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { showWhat } from '../shell/shell.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { useFetched } from './fetched.ts'

/** Emergency openings of health data wait until somebody else has looked at why. Shown to those who may. */
export function Openings({ house }: { house: House }) {
  const openings = useFetched<EmergencyOpening[]>(house, '/api/medical/emergency-openings')
  const people = useFetched<Person[]>(house, '/api/office/people')
  const { day: say } = words.office
  if (!openings.value) return null
  return (
    <section class="stack">
      <h2>{say.openings}</h2>
      {openings.value.length === 0 && <p>{say.noOpenings}</p>}
      <ul class="office-list">
        {openings.value.map((opening) => (
          <li key={opening.openingId} class="sheet">
            <Opening
              house={house}
              opening={opening}
              who={people.value?.find(({ personId }) => personId === opening.personId)?.name ?? opening.personId}
              onDone={() => void openings.refresh()}
            />
          </li>
        ))}
      </ul>
    </section>
  )
}

interface Props {
  house: House
  opening: EmergencyOpening
  who: string
  onDone: () => void
}

function Opening({ house, opening, who, onDone }: Props) {
  const [note, type] = useState('')
  const { day: say } = words.office
  const review = async (finding: 'accepted' | 'notAccepted') => {
    const body = { openingId: opening.openingId, finding, note: note.trim() || null }
    await showWhat(house, say.reviewed, house.api.post('/api/medical/emergency-openings/reviews', body))
    onDone()
  }
  return (
    <div class="stack">
      <p>{say.opening(who, wallClock(opening.openedAt, house.day.value?.timeZone ?? 'UTC'), opening.reason)}</p>
      <Field label={say.note} optional value={note} onInput={type} />
      <div class="row">
        {(['accepted', 'notAccepted'] as const).map((finding) => (
          <Button key={finding} onPress={() => void review(finding)}>
            {say.findings[finding]}
          </Button>
        ))}
      </div>
    </div>
  )
}
