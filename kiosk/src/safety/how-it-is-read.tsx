import { useState } from 'preact/hooks'
import { settlingMs } from '@musterbook/heat/reading-checks'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { raceTime, shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { Meter } from './meters.ts'
import type { How } from './reading-form.ts'
import { setUpAt, setUpNow } from './set-up-time.ts'

interface Props {
  house: House
  /** undefined until this device has heard of them once. */
  meters: readonly Meter[] | undefined
  zones: readonly { zoneId: string; name: string }[]
  onTake: (how: How) => void
}

/** Place, instrument, sky and whether it has settled: said before the value, since it decides what the value is worth. */
export function HowItIsRead({ house, meters, zones, onTake }: Props) {
  const [shown, show] = useState(true)
  const [zoneId, place] = useState(zones[0]?.zoneId ?? '')
  const [instrumentId, choose] = useState('')
  const [sun, shine] = useState(true)
  const [wetBulbKind, wet] = useState<How['wetBulbKind']>('natural')
  const [globe, size] = useState('150')
  const [justSetUp, stand] = useState<Readonly<Record<string, number>>>({})
  const [settled, settle] = useState<'yes' | 'no' | 'asked' | ''>('')
  const meter = meters?.find((one) => one.equipmentId === instrumentId) ?? meters?.[0]
  const standsSince = meter && (justSetUp[meter.equipmentId] ?? setUpAt(meter.equipmentId))
  const now = house.clock.now.value
  const isEarly = standsSince !== undefined && now < standsSince + settlingMs.globe
  if (!meters) return <p>{house.lost.value ? words.safety.metersUnheard : words.shell.reaching}</p>
  if (!meter) return <Mark state="unknown" says={words.safety.metersNone} />

  return (
    <section class="stack how" aria-labelledby="take-a-reading">
      <h2 id="take-a-reading">{words.safety.readingTitle}</h2>
      <div class="how-choices">
        <Tabs
          label={words.safety.how}
          labelled
          value={shown ? 'shown' : 'bulbs'}
          choices={[
            { value: 'shown', says: words.safety.shown },
            { value: 'bulbs', says: words.safety.bulbs },
          ]}
          onChange={(value) => show(value === 'shown')}
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
        <Tabs
          label={words.safety.instrument}
          labelled
          value={meter.equipmentId}
          choices={meters.map(({ equipmentId, unit }) => ({
            value: equipmentId,
            says: equipmentId,
            detail: words.safety.fixedUnit(words.safety.unit[unit]),
          }))}
          onChange={choose}
        />
        <LastCheck meter={meter} house={house} />
        <Tabs
          label={words.safety.sky}
          labelled
          value={sun ? 'sun' : 'noSun'}
          choices={[
            { value: 'sun', says: words.safety.sun },
            { value: 'noSun', says: words.safety.noSun },
          ]}
          onChange={(value) => shine(value === 'sun')}
        />
        <Tabs
          label={words.safety.bulbKind}
          labelled
          value={wetBulbKind}
          choices={(['natural', 'psychrometric', 'derived'] as const).map((value) => ({ value, says: words.safety.bulbKinds[value] }))}
          onChange={(value) => wet(value as How['wetBulbKind'])}
        />
        <Tabs
          label={words.safety.globe}
          labelled
          value={globe}
          choices={[
            { value: '150', says: words.safety.globe150 },
            { value: '38', says: words.safety.globeSmall },
          ]}
          onChange={size}
        />
      </div>
      <div class="settle">
        <Settling since={standsSince} now={now} zone={house.day.value?.timeZone ?? 'UTC'} />
        <Button
          size="key"
          onPress={() => {
            const at = house.clock.siteNow()
            setUpNow(meter.equipmentId, at)
            stand({ ...justSetUp, [meter.equipmentId]: at })
            settle('')
          }}
        >
          {words.safety.setUp}
        </Button>
      </div>
      {settled === 'asked' && standsSince !== undefined ? (
        <section class="run-question" role="alert">
          <h3>{words.safety.earlyTitle(meter.equipmentId, shortDuration(now - standsSince))}</h3>
          <p>{words.safety.settledHint}</p>
          <div class="row">
            <Button size="key" kind="primary" onPress={() => settle('no')}>
              {words.safety.notSettled}
            </Button>
            <Button size="key" detail={words.safety.earlyHelp} onPress={() => settle('yes')}>
              {words.safety.earlyAllTheSame}
            </Button>
          </div>
        </section>
      ) : (
        <Tabs
          label={words.safety.settled}
          labelled
          value={settled}
          choices={[
            { value: 'yes', says: words.safety.isSettled },
            { value: 'no', says: words.safety.notSettled },
          ]}
          onChange={(value) => settle(value === 'yes' && isEarly ? 'asked' : (value as 'yes' | 'no'))}
        />
      )}
      {settled === '' && <Mark state="waiting" says={words.safety.settledFirst} />}
      {(settled === 'yes' || settled === 'no') && (
        <Button
          kind="primary"
          size="key"
          wide
          onPress={() =>
            onTake({
              shown,
              zoneId,
              instrumentId: meter.equipmentId,
              unit: meter.unit,
              sun,
              wetBulbKind,
              globeDiameterMm: Number(globe),
              settled: settled === 'yes',
              settledEarly: settled === 'yes' && isEarly,
            })
          }
        >
          {words.safety.take}
        </Button>
      )}
    </section>
  )
}

/** What is known of the instrument that is to be believed: its last check of the day with its age, and until when its calibration holds. */
function LastCheck({ meter: { equipmentId, today, dueOn }, house }: { meter: Meter; house: House }) {
  const day = house.day.value
  const isOverdue = dueOn !== null && day !== undefined && day.date > dueOn
  const state = today?.blocked || isOverdue ? 'notMet' : today ? 'done' : 'unknown'
  const says = today
    ? words.safety.checked(
        equipmentId,
        wallClock(today.checkedAt, day?.timeZone ?? 'UTC'),
        shortDuration(house.clock.now.value - today.checkedAt),
        !today.blocked,
      )
    : words.safety.unchecked(equipmentId)
  return (
    <div class="last-check figures">
      <Mark state={state} says={says} />
      {dueOn && <span>{isOverdue ? words.safety.calibrationOver(dueOn) : words.safety.calibratedUntil(dueOn)}</span>}
    </div>
  )
}

/** How long it has stood, and how long until a globe counts as settled. */
function Settling({ since, now, zone }: { since: number | undefined; now: number; zone: string }) {
  if (since === undefined)
    return (
      <p class="settle-time">
        <strong>{words.safety.standsNever}</strong>
        <span>{words.safety.settledHint}</span>
      </p>
    )
  const settledAt = since + settlingMs.globe
  return (
    <p class="settle-time figures">
      {now < settledAt && (
        <span class="settle-left" role="timer">
          {raceTime(Math.ceil((settledAt - now) / 1000) * 100, 0)}
        </span>
      )}
      <strong>
        {now < settledAt ? words.safety.settlesAt(wallClock(settledAt, zone)) : words.safety.settledSince(wallClock(settledAt, zone))}
      </strong>
      <span>{words.safety.stands(shortDuration(now - since))}</span>
    </p>
  )
}
