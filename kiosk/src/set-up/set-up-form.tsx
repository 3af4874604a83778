import { useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import { namedIds } from '../office/ids.ts'
import { sentenceOf } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'
import { Places, usualStations, usualZones, type StationDraft, type ZoneDraft } from './places.tsx'

type Wrong = Partial<Record<'code' | 'site' | 'timeZone' | 'name' | 'pin' | 'pinAgain', string>>

/** Everything that a site needs before anybody can sign on, on one page: nothing is saved until all of it is. */
export function SetUpForm({ house }: { house: House }) {
  const [code, setCode] = useState('')
  const [site, setSite] = useState('')
  const [timeZone, setTimeZone] = useState(Intl.DateTimeFormat().resolvedOptions().timeZone)
  const [zones, setZones] = useState<readonly ZoneDraft[]>(usualZones)
  const [stations, setStations] = useState<readonly StationDraft[]>(usualStations)
  const [name, setName] = useState('')
  const [pin, setPin] = useState('')
  const [pinAgain, setPinAgain] = useState('')
  const [deviceName, setDeviceName] = useState(words.office.setUp.deviceName)
  const [wrong, setWrong] = useState<Wrong>({})
  const [no, setNo] = useState('')
  const [busy, setBusy] = useState(false)
  const { setUp } = words.office

  const save = async () => {
    const missing = wrongIn({ code, site, timeZone, name, pin, pinAgain })
    setWrong(missing)
    setNo(Object.keys(missing).length > 0 ? setUp.missing : '')
    if (Object.keys(missing).length > 0 || busy) return
    setBusy(true)
    const told = await house.api.post('/api/set-up', {
      code,
      site: { name: site, timeZone, ...placed(zones, stations) },
      coordinator: { name, pin },
      deviceName: deviceName || setUp.deviceName,
    })
    setBusy(false)
    if (told.said === 'recorded') location.assign('/office')
    else {
      const rule = told.said === 'refused' ? told.refusal.rule : ''
      const field = ({ wrongSetUpCode: 'code', noSuchTimeZone: 'timeZone', pinTooSimple: 'pin' } as const)[rule]
      setNo(sentenceOf(told) ?? '')
      if (field) setWrong({ [field]: sentenceOf(told) ?? '' })
    }
  }

  return (
    <form
      class="stack set-up"
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      <h2>{setUp.title}</h2>
      <p>{setUp.help}</p>
      <div class="set-up-pair">
        <Field label={setUp.code} hint={setUp.codeHint} value={code} onInput={setCode} error={wrong.code} autoComplete="off" />
        <Field label={setUp.device} hint={setUp.deviceHint} value={deviceName} onInput={setDeviceName} maxLength={60} />
        <Field label={setUp.site} value={site} onInput={setSite} error={wrong.site} maxLength={120} />
        <Field label={setUp.timeZone} hint={setUp.timeZoneHint} value={timeZone} onInput={setTimeZone} error={wrong.timeZone} />
      </div>
      <Places zones={zones} stations={stations} onZones={setZones} onStations={setStations} />
      <h2>{setUp.coordinator}</h2>
      <div class="set-up-pair">
        <Field label={setUp.name} value={name} onInput={setName} error={wrong.name} autoComplete="name" maxLength={120} />
        <span />
        <Field
          label={setUp.pin}
          hint={setUp.pinHint}
          type="password"
          inputMode="numeric"
          value={pin}
          onInput={setPin}
          error={wrong.pin}
          autoComplete="new-password"
        />
        <Field
          label={setUp.pinAgain}
          type="password"
          inputMode="numeric"
          value={pinAgain}
          onInput={setPinAgain}
          error={wrong.pinAgain}
          autoComplete="new-password"
        />
      </div>
      <p class="set-up-no" role="alert">
        {no}
      </p>
      <div class="row">
        <Button type="submit" kind="primary" size="key" busy={busy}>
          {setUp.save}
        </Button>
      </div>
    </form>
  )
}

function wrongIn(typed: Record<keyof Wrong, string>): Wrong {
  const { needed, pinWrong } = words.office.setUp
  const empty = (['code', 'site', 'timeZone', 'name'] as const).filter((field) => typed[field].trim() === '')
  return {
    ...Object.fromEntries(empty.map((field) => [field, needed])),
    ...(!/^[0-9]{4,12}$/.test(typed.pin) && { pin: pinWrong }),
    ...(typed.pin !== typed.pinAgain && { pinAgain: words.ownPin.differ }),
  }
}

/** Ids follow the names, so that whoever reads the record later can read them. */
function placed(zones: readonly ZoneDraft[], stations: readonly StationDraft[]) {
  const named = zones.filter(({ name }) => name.trim() !== '')
  const zoneIds = namedIds(named.map(({ name }) => name))
  const kept = stations.filter((station) => station.name.trim() !== '' && named.some(({ key }) => key === station.zone))
  const stationIds = namedIds(kept.map(({ id, name }) => id ?? name))
  return {
    zones: named.map(({ name, outdoor }, at) => ({
      zoneId: zoneIds[at],
      name: name.trim(),
      outdoor,
      track: null,
      shelter: null,
      coolingPoint: null,
    })),
    stations: kept.map(({ name, zone, kind, protocolId }, at) => ({
      stationId: stationIds[at],
      name: name.trim(),
      zoneId: zoneIds[named.findIndex(({ key }) => key === zone)],
      kind,
      protocolId,
    })),
  }
}
