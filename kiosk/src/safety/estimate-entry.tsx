import { useState } from 'preact/hooks'
import { tenthsOf } from '@musterbook/heat/wbgt'
import { temperatureOf } from '@musterbook/heat/temperature'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { newId } from '../shell/shell.tsx'
import { figure, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { safetyActs, type Receipt } from './acts.ts'
import { askedBy, estimatedReading, limitsOf, nothingTyped, numberOf, workOut, type EstimateMethod, type Worked } from './estimate-form.ts'
import { Received } from './received.tsx'
import { keepPlace, placeKept } from './station-place.ts'

interface Props {
  house: House
  safety: SafetyView
  onLeave: () => void
}

interface Done {
  worked: Worked
  at: number
}

/** Where no meter is at hand: values of a weather station, a WBGT worked out from them once, and then told as it is. */
export function EstimateEntry({ house, safety, onLeave }: Props) {
  const [method, choose] = useState<EstimateMethod>('liljegren2008')
  const [typed, type] = useState(() => ({ ...nothingTyped, ...placeKept() }))
  const [looked, look] = useState(false)
  const [done, finish] = useState<Done | null>(null)
  const [sent, say] = useState<{ readingId: string; receipt: Receipt } | null>(null)
  const zones = safety.zones.filter((zone) => zone.outdoor)
  const [zoneId, place] = useState(zones[0]?.zoneId ?? '')
  const isWhole = askedBy(method).every((asked) => numberOf(asked, typed[asked]) !== undefined)

  const work = () => {
    look(true)
    if (!isWhole) return
    const at = house.clock.siteNow()
    const worked = workOut(method, typed, at)
    if (!worked) return
    if (method === 'liljegren2008') keepPlace(typed)
    finish({ worked, at })
  }
  const send = async ({ worked }: Done, confirmed: readonly string[]) => {
    const readingId = newId('reading')
    const siteId = house.day.value?.siteId ?? ''
    const outcome = await safetyActs(house).read(estimatedReading(worked, { readingId, siteId, zoneId }, confirmed))
    if (outcome.said === 'recorded') say({ readingId, receipt: outcome.body })
    else if (outcome.said === 'kept') onLeave()
  }

  if (done && sent)
    return (
      <Received safety={safety} {...sent} settled estimated onConfirm={() => void send(done, sent.receipt.questions)} onAnother={onLeave} />
    )
  if (done)
    return (
      <WorkedOut
        done={done}
        zone={house.day.value?.timeZone ?? 'UTC'}
        unit={safety.policy?.unit ?? 'degC'}
        onSend={() => void send(done, [])}
        onBack={() => finish(null)}
      />
    )
  const says = words.safety.estimate
  return (
    <section class="stack" aria-labelledby="estimate">
      <h2 id="estimate">{says.title}</h2>
      <p>{says.neverLifts}</p>
      <Tabs
        label={says.how}
        labelled
        value={method}
        choices={(['liljegren2008', 'simplified'] as const).map((value) => ({
          value,
          says: says.methods[value],
          detail: says.needs[value],
        }))}
        onChange={(value) => choose(value as EstimateMethod)}
      />
      {zones.length > 1 && (
        <Tabs
          label={words.safety.where}
          labelled
          value={zoneId}
          choices={zones.map((zone) => ({ value: zone.zoneId, says: zone.name }))}
          onChange={place}
        />
      )}
      <div class="estimate-fields">
        {askedBy(method).map((asked) => {
          const { from, to } = limitsOf(asked)
          return (
            <Field
              key={asked}
              label={says.asked[asked]}
              hint={says.hints[asked]}
              unit={says.units[asked]}
              inputMode="text"
              autoComplete="off"
              maxLength={8}
              value={typed[asked]}
              onInput={(value) => type((before) => ({ ...before, [asked]: value }))}
              error={looked && numberOf(asked, typed[asked]) === undefined ? says.outside(figure(from), figure(to)) : undefined}
            />
          )
        })}
      </div>
      {looked && !isWhole && <Mark state="notMet" says={says.missing} />}
      {looked && isWhole && <Mark state="unknown" says={says.none} />}
      <div class="row">
        <Button kind="primary" size="key" onPress={work}>
          {says.work}
        </Button>
        <Button size="key" onPress={onLeave}>
          {words.common.back}
        </Button>
      </div>
    </section>
  )
}

interface WorkedOutProps {
  done: Done
  zone: string
  unit: 'degC' | 'degF'
  onSend: () => void
  onBack: () => void
}

function WorkedOut({ done, zone, unit, onSend, onBack }: WorkedOutProps) {
  const { method, estimate } = done.worked
  const says = words.safety.estimate
  const tenths = tenthsOf(temperatureOf(estimate.wbgt), unit)
  return (
    <section class="received" aria-labelledby="worked-out" role="status">
      <h2 id="worked-out" class="received-value figures">
        {says.workedOut(words.safety.degrees(tenths, unit), wallClock(done.at, zone))}
      </h2>
      {estimate.screeningOnly && <Mark state="unknown" says={says.screening} />}
      <p>{says.by(says.methods[method])}</p>
      <p>{says.error[method]}</p>
      <p>{says.neverLifts}</p>
      <div class="row">
        <Button kind="primary" size="key" onPress={onSend}>
          {says.tell}
        </Button>
        <Button size="key" onPress={onBack}>
          {words.common.back}
        </Button>
      </div>
    </section>
  )
}
