import { signal } from '@preact/signals'
import { useState } from 'preact/hooks'
import type { PersonId, StationId, WaveId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { tell } from '../shell/shell.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'

/** Words that came over the radio to this tablet, by what they cover. They outlive the screen that asked. */
const heard = signal<ReadonlyMap<string, { spokeTo: string; until: number }>>(new Map())

interface Covers {
  stationId: string
  /** A run's wave, named before it starts; null at other stations. */
  waveId: string | null
}

const keyOf = ({ stationId, waveId }: Covers): string => `${stationId} ${waveId ?? ''}`

/** The word that covers this start now; nothing once its period is over. */
export function radioWord(house: House, covers: Covers): { spokeTo: string; until: number } | undefined {
  const word = heard.value.get(keyOf(covers))
  return word && word.until > house.clock.now.value ? word : undefined
}

export const radioSays = (house: House, { spokeTo, until }: { spokeTo: string; until: number }): string =>
  words.radio.covers(house.staff.value.get(spokeTo) ?? spokeTo, wallClock(until, house.day.value?.timeZone ?? 'UTC'))

/** The only way on without contact: who gave the word, and their words. It covers one wave or station, for one period. */
export function RadioWay({ house, covers }: { house: House; covers: Covers }) {
  const [open, setOpen] = useState(false)
  const [spokeTo, nameThem] = useState('')
  const [said, write] = useState('')
  const [asked, ask] = useState(false)
  const limit = house.day.value?.contactAgeMs ?? 0
  const save = async () => {
    ask(true)
    if (!spokeTo || said.trim() === '') return
    const until = house.clock.siteNow() + limit
    setOpen(false)
    const outcome = await tell(house, words.radio.told, 'confirmByRadio', {
      stationId: covers.stationId as StationId,
      waveId: covers.waveId as WaveId | null,
      spokeTo: spokeTo as PersonId,
      words: said.trim(),
    })
    if (!stands(outcome)) return
    heard.value = new Map(heard.value).set(keyOf(covers), { spokeTo, until })
    write('')
  }

  return (
    <>
      <Button kind="primary" onPress={() => setOpen(true)} detail={words.radio.openDetail}>
        {words.radio.open}
      </Button>
      <Dialog
        title={words.radio.title}
        open={open}
        onClose={() => setOpen(false)}
        foot={
          <Button kind="primary" onPress={() => void save()}>
            {words.radio.save}
          </Button>
        }
      >
        <div class="stack">
          <p>{covers.waveId === null ? words.radio.helpStation : words.radio.helpWave}</p>
          <Choice
            label={words.radio.who}
            value={spokeTo}
            blank={words.radio.whoBlank}
            choices={[...house.staff.value].map(([value, says]) => ({ value, says }))}
            onChange={nameThem}
            error={asked && !spokeTo ? words.radio.whoMissing : undefined}
          />
          <Field
            label={words.radio.words}
            hint={words.radio.wordsHint}
            value={said}
            onInput={write}
            maxLength={500}
            error={asked && said.trim() === '' ? words.radio.wordsMissing : undefined}
          />
          <p>{words.radio.period(Math.round(limit / 60_000))}</p>
        </div>
      </Dialog>
    </>
  )
}
