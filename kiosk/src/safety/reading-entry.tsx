import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { newId } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { safetyActs, type Receipt } from './acts.ts'
import { EstimateEntry } from './estimate-entry.tsx'
import { HowItIsRead } from './how-it-is-read.tsx'
import type { Meter } from './meters.ts'
import { askAbout, isImpossible, takeReading, valuesAsked, type How, type Values } from './reading-form.ts'
import { Received } from './received.tsx'

interface Props {
  house: House
  safety: SafetyView
  /** undefined until this device has heard of them once. */
  meters: readonly Meter[] | undefined
}

interface Sent {
  how: How
  values: Values
  readingId: string
  receipt: Receipt
}

/** From the instrument to the site: how, the values one by one, what is odd about them, and what the site made of it. */
export function ReadingEntry({ house, safety, meters }: Props) {
  const [how, choose] = useState<How | null>(null)
  const [values, type] = useState<Values>({})
  const [asked, ask] = useState<readonly string[]>([])
  const [sent, say] = useState<Sent | null>(null)
  const [estimating, estimate] = useState(false)
  const outdoor = safety.zones.filter((zone) => zone.outdoor)

  const send = async (told: How, read: Values, confirmed: readonly string[]) => {
    const readingId = newId('reading')
    const siteId = house.day.value?.siteId ?? ''
    const outcome = await safetyActs(house).read(takeReading(told, read, { readingId, siteId }, confirmed))
    ask([])
    if (outcome.said === 'recorded') {
      type({})
      say({ how: told, values: read, readingId, receipt: outcome.body })
    } else if (outcome.said === 'kept') {
      type({})
      choose(null)
    }
  }
  const typed = (told: How, read: Values) => {
    type(read)
    if (valuesAsked(told).some((value) => read[value] === undefined)) return
    const previous = safety.readings.findLast((one) => one.instrumentId === told.instrumentId && one.zoneId === told.zoneId)
    const odd = askAbout(takeReading(told, read, { readingId: 'r', siteId: 's' }, []), previous)
    if (odd.length > 0) ask(odd)
    else void send(told, read, [])
  }

  if (sent)
    return (
      <Received
        safety={safety}
        readingId={sent.readingId}
        receipt={sent.receipt}
        settled={sent.how.settled}
        saidEarly={sent.how.settledEarly}
        onConfirm={() => void send(sent.how, sent.values, sent.receipt.questions)}
        onAnother={() => {
          say(null)
          choose(null)
        }}
      />
    )
  if (estimating) return <EstimateEntry house={house} safety={safety} onLeave={() => estimate(false)} />
  if (how === null)
    return (
      <>
        <HowItIsRead house={house} meters={meters} zones={outdoor} onTake={choose} />
        <div>
          <Button detail={words.safety.estimate.openHelp} onPress={() => estimate(true)}>
            {words.safety.estimate.open}
          </Button>
        </div>
      </>
    )
  if (asked.length > 0)
    return (
      <section class="run-question" role="alert">
        <h2>{words.safety.askTitle}</h2>
        <p class="figures">
          {valuesAsked(how)
            .map((value) => `${words.safety.value[value]} ${words.safety.degrees(values[value] ?? 0, how.unit)}`)
            .join(', ')}
        </p>
        <ul class="run-sentences">
          {asked.map((question) => (
            <li key={question}>{(words.readingChecks as Record<string, string | undefined>)[question] ?? question}</li>
          ))}
        </ul>
        {isImpossible(takeReading(how, values, { readingId: 'r', siteId: 's' }, [])) && <p>{words.safety.cannotCount}</p>}
        <div class="row">
          <Button
            size="key"
            kind="primary"
            onPress={() => {
              ask([])
              type({})
            }}
          >
            {words.safety.again}
          </Button>
          <Button size="key" onPress={() => void send(how, values, asked)}>
            {words.safety.keep}
          </Button>
        </div>
      </section>
    )

  const next = valuesAsked(how).find((value) => values[value] === undefined) ?? 'wbgt'
  const isLast = valuesAsked(how).at(-1) === next
  return (
    <div class="reading-pad" ref={intoSight}>
      <NumberPad
        key={next}
        label={words.safety.value[next]}
        unit={words.safety.unit[how.unit]}
        places={1}
        most={3}
        negative
        save={isLast ? words.safety.take : words.safety.nextValue}
        head={
          <div class="stack">
            {!how.settled && <Mark state="unknown" says={words.safety.notSettledSaid} />}
            <div class="row">
              {valuesAsked(how)
                .filter((value) => values[value] !== undefined)
                .map((value) => (
                  <span key={value} class="figures">
                    {words.safety.value[value]} {words.safety.degrees(values[value] ?? 0, how.unit)}
                  </span>
                ))}
              <Button
                size="small"
                onPress={() => {
                  type({})
                  choose(null)
                }}
              >
                {words.common.back}
              </Button>
            </div>
          </div>
        }
        onSave={(amount) => typed(how, { ...values, [next]: amount })}
      />
    </div>
  )
}

/** On a phone the keys lie below: they come to the hand. */
const intoSight = (pad: HTMLElement | null) => pad?.scrollIntoView({ block: 'nearest' })
