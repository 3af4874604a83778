import { useState } from 'preact/hooks'
import type { DayView } from '@musterbook/day/views'
import type { Language } from '@musterbook/vocabulary/people'
import { Button } from '../parts/button/button.tsx'
import { Tick } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { words } from '../words/words.ts'

export interface Chosen {
  classId: string
  stationIds: string[]
  language: Language
}

interface Props {
  day: DayView
  classes: readonly { classId: string; name: string }[]
  chosen: Chosen
  onChoose: (chosen: Chosen) => void
  onStart: () => void
}

export function ChooseBriefing({ day, classes, chosen, onChoose, onStart }: Props) {
  const [wrong, setWrong] = useState(false)
  const turn = (stationId: string, isIn: boolean) =>
    onChoose({ ...chosen, stationIds: isIn ? [...chosen.stationIds, stationId] : chosen.stationIds.filter((one) => one !== stationId) })
  return (
    <section class="stack briefing-choose" aria-labelledby="choose">
      <h2 id="choose">{words.briefing.chooseTitle}</h2>
      <div class="split">
        <div class="stack">
          <Tabs
            label={words.briefing.className}
            labelled
            value={chosen.classId}
            choices={classes.map(({ classId, name }) => ({ value: classId, says: name }))}
            onChange={(classId) => onChoose({ ...chosen, classId })}
          />
          <fieldset class="stack">
            <legend class="tabs-label">{words.briefing.stations}</legend>
            <div class="briefing-tests">
              {day.stations.map(({ stationId, name, protocol }) => (
                <Tick
                  key={stationId}
                  says={
                    <>
                      <strong>{name}</strong> <span class="quiet">{words.briefing.version(protocol.version)}</span>
                    </>
                  }
                  checked={chosen.stationIds.includes(stationId)}
                  onChange={(isIn) => turn(stationId, isIn)}
                />
              ))}
            </div>
          </fieldset>
        </div>
        <div class="stack">
          <Tabs
            label={words.briefing.language}
            labelled
            value={chosen.language}
            choices={(['en', 'es', 'ar'] as const).map((one) => ({ value: one, says: words.briefing.languages[one] }))}
            onChange={(language) => onChoose({ ...chosen, language: language as Language })}
          />
          {chosen.language !== 'en' && <p class="quiet">{words.briefing.sentencesIn}</p>}
          {wrong && chosen.stationIds.length === 0 && (
            <p role="alert" class="trouble">
              {words.briefing.chooseOne}
            </p>
          )}
          <div class="row">
            <Button kind="primary" size="key" onPress={() => (chosen.stationIds.length === 0 ? setWrong(true) : onStart())}>
              {words.briefing.start}
            </Button>
          </div>
        </div>
      </div>
    </section>
  )
}
