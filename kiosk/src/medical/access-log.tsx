import { useState } from 'preact/hooks'
import type { AccessEvent } from '@musterbook/vocabulary/access'
import type { House } from '../house/house.ts'
import { sentenceOf } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'

interface Asked {
  recordedAt: number
  event: AccessEvent
}

/** Who opened health data, and who asked for it and was refused: newest first. */
export function AccessLog({ house }: { house: House }) {
  const [asked, show] = useState<readonly Asked[] | undefined>(undefined)
  const [wrong, setWrong] = useState<string | undefined>(undefined)
  const zone = house.day.value?.timeZone ?? 'UTC'
  const read = async () => {
    const said = await house.api.get<Asked[]>('/api/medical/access')
    if (said.said === 'recorded') show([...said.body].reverse())
    setWrong(sentenceOf(said))
  }
  const name = (personId: string | null) => (personId ? (house.staff.value.get(personId) ?? personId) : words.medical.somebody)

  return (
    <section class="stack medical-access" aria-labelledby="access">
      <h2 id="access">{words.medical.accessTitle}</h2>
      {wrong && (
        <p role="alert" class="trouble">
          {wrong}
        </p>
      )}
      {asked && asked.length === 0 && <p>{words.medical.accessNone}</p>}
      {asked && asked.length > 0 && (
        <ul class="medical-asked">
          {asked.map(({ recordedAt, event }, at) => (
            <li key={`${recordedAt} ${at}`} data-refused={event.type === 'roleRefused' || undefined}>
              <span class="figures">{wallClock(recordedAt, zone, true)}</span> {sentence(event, name)}
            </li>
          ))}
        </ul>
      )}
      <div class="row">
        {asked ? (
          <Button onPress={() => show(undefined)}>{words.medical.accessHide}</Button>
        ) : (
          <Button onPress={() => void read()}>{words.medical.accessShow}</Button>
        )}
      </div>
    </section>
  )
}

function sentence(event: AccessEvent, name: (personId: string | null) => string): string {
  switch (event.type) {
    case 'roleRefused':
      return words.medical.accessRefused(name(event.personId), event.asked)
    case 'healthOpenedInEmergency':
      return words.medical.accessEmergency(name(event.personId))
    case 'emergencyOpeningReviewed':
      return words.medical.accessReviewed(name(event.personId))
    default:
      return words.medical.accessOpened(name(event.personId))
  }
}
