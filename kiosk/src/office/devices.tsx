import { useEffect, useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { Device } from '@musterbook/vocabulary/office'
import type { PlacedStation, UnsentTold } from '@musterbook/vocabulary/office-events'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { ConfirmDialog, Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { QrCode } from '../parts/qr-code/qr-code.tsx'
import { showWhat } from '../shell/shell.tsx'
import { clockOff, shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { useFetched } from './fetched.ts'
import { mayAsk } from './may.ts'
import { askOffice } from './ask.ts'
import { LockDevice } from './lock-device.tsx'
import { Waits } from './waits.tsx'

interface Contact {
  deviceId: string
  lastHeardAt: number | null
  unsent: UnsentTold | null
}
interface Code {
  name: string
  purpose: Device['purpose']
  code: string
  expiresAt: number
}

/** Every device, when it was last heard, and the way in for a new one. */
export function Devices({ house }: { house: House }) {
  const devices = useFetched<Device[]>(house, '/api/office/devices')
  const contacts = useFetched<Contact[]>(house, '/api/devices/contacts')
  const venue = useFetched<{ stations: PlacedStation[] }>(house, '/api/office/venue')
  const [locking, lock] = useState<Device | undefined>(undefined)
  const [revoking, revoke] = useState<Device | undefined>(undefined)
  const [code, show] = useState<Code | undefined>(undefined)
  const lead = mayAsk(house, 'inviteDevice')
  const day = house.day.value
  const clocks = day ? house.view<SafetyView>('safety').view.value?.devices : undefined
  const zone = day?.timeZone ?? 'UTC'
  const say = words.supervisor.devices
  useEffect(() => {
    const timer = setInterval(() => void contacts.refresh(), 5_000)
    return () => clearInterval(timer)
  }, [contacts.refresh])
  if (!devices.value) return <Waits on={devices} />

  const stationName = (id: string | null) => venue.value?.stations.find(({ stationId }) => stationId === id)?.name ?? id ?? say.noStation
  const contact = (device: Device) => contacts.value?.find(({ deviceId }) => deviceId === device.deviceId)
  const heard = (device: Device) => contact(device)?.lastHeardAt ?? null
  return (
    <section class="stack">
      <h2>{say.title}</h2>
      {lead && <AddDevice house={house} stations={venue.value?.stations ?? []} onMade={show} onDone={() => void devices.refresh()} />}
      {code && (
        <div class="sheet office-code" role="status">
          <QrCode text={enrolmentLink(code)} says={say.made(code.name, wallClock(code.expiresAt, zone))} />
          <div class="stack">
            <h3>{say.made(code.name, wallClock(code.expiresAt, zone))}</h3>
            <p class="office-code-text code">{code.code}</p>
            <p>{say.scan}</p>
            <div class="row">
              <Button onPress={() => show(undefined)}>{words.common.close}</Button>
            </div>
          </div>
        </div>
      )}
      <DataTable<Device>
        caption={say.title}
        captionSpoken
        rows={devices.value.filter(({ state }) => state !== 'revoked')}
        rowKey={(device) => device.deviceId}
        columns={[
          { key: 'name', head: say.name, cell: (device) => device.name, sortBy: (device) => device.name },
          { key: 'purpose', head: say.purpose, cell: (device) => say.purposes[device.purpose] },
          { key: 'station', head: say.station, cell: (device) => stationName(device.stationId) },
          {
            key: 'state',
            head: say.stateHead,
            cell: (device) =>
              device.locked ? (
                <Mark state="blocked" says={say.lockedSince(wallClock(device.locked.at, zone), device.locked.reason)} />
              ) : (
                say.state[device.state]
              ),
          },
          {
            key: 'heard',
            head: say.heard,
            sortBy: (device) => -(heard(device) ?? 0),
            cell: (device) =>
              device.state === 'enrolled' ? <Heard at={heard(device)} now={house.clock.now.value} limit={day?.contactAgeMs} /> : '',
          },
          {
            key: 'unsent',
            head: say.unsentHead,
            cell: (device) => {
              const unsent = contact(device)?.unsent
              return device.state !== 'enrolled' ? (
                ''
              ) : unsent ? (
                say.unsent(unsent.acts, unsent.photos)
              ) : (
                <Mark state="unknown" says={say.unsentUnknown} />
              )
            },
          },
          {
            key: 'clock',
            head: say.clock,
            cell: (device) => {
              const clock = clocks?.find(({ deviceId }) => deviceId === device.deviceId)
              return clock ? say.offset(clockOff(clock.offsetMs), clockOff(clock.bandMs)) : ''
            },
          },
          ...(lead
            ? [
                {
                  key: 'lock',
                  head: say.lock,
                  cell: (device: Device) =>
                    device.state === 'enrolled' && (
                      <Button
                        size="small"
                        label={device.locked ? say.unlockNamed(device.name) : say.lockNamed(device.name)}
                        onPress={() => lock(device)}
                      >
                        {device.locked ? say.unlock : say.lock}
                      </Button>
                    ),
                },
                {
                  key: 'revoke',
                  head: say.revoke,
                  cell: (device: Device) => (
                    <Button size="small" label={say.revokeNamed(device.name)} onPress={() => revoke(device)}>
                      {say.revoke}
                    </Button>
                  ),
                },
              ]
            : []),
        ]}
      />
      {locking && (
        <LockDevice
          house={house}
          device={locking}
          unsent={contact(locking)?.unsent ?? null}
          onDone={() => {
            lock(undefined)
            void devices.refresh()
          }}
        />
      )}
      <ConfirmDialog
        title={revoking ? say.revokeNamed(revoking.name) : ''}
        open={revoking !== undefined}
        confirm={say.revoke}
        onClose={() => revoke(undefined)}
        onConfirm={() => {
          const device = revoking
          revoke(undefined)
          if (device)
            void askOffice(house, say.revoked(device.name), 'device-revocations', { deviceId: device.deviceId }).then(devices.refresh)
        }}
      >
        <p>{revoking && say.revokeSure(revoking.name)}</p>
      </ConfirmDialog>
    </section>
  )
}

function Heard({ at, now, limit }: { at: number | null; now: number; limit: number | undefined }) {
  const { devices } = words.supervisor
  if (at === null) return <Mark state="unknown" says={devices.never} />
  const age = now - at
  return limit !== undefined && age > limit ? (
    <Mark state="unknown" says={`${devices.ago(shortDuration(age))}, ${devices.old}`} />
  ) : (
    <span class="figures">{devices.ago(shortDuration(age))}</span>
  )
}

/** A kiosk or a board opens its own screen; a tablet of the staff the one of its station. */
const enrolmentLink = ({ code, purpose }: Code) =>
  `${location.origin}/${purpose === 'kiosk' ? 'check-in' : purpose === 'board' ? 'board' : 'station'}?code=${encodeURIComponent(code)}`

interface AddProps {
  house: House
  stations: readonly PlacedStation[]
  onMade: (code: Code) => void
  onDone: () => void
}

function AddDevice({ house, stations, onMade, onDone }: AddProps) {
  const [open, setOpen] = useState(false)
  const [name, setName] = useState('')
  const [purpose, setPurpose] = useState<Device['purpose']>('staff')
  const [stationId, setStation] = useState('')
  const { devices } = words.supervisor
  const make = async () => {
    if (name.trim() === '') return
    setOpen(false)
    const asked = house.api.post<{ code: string; expiresAt: number }>('/api/devices/codes', {
      name,
      purpose,
      stationId: purpose === 'staff' && stationId ? stationId : null,
    })
    const outcome = await showWhat(house, devices.codeMade, asked)
    if (outcome.said === 'recorded') onMade({ name, purpose, ...(outcome.body as { code: string; expiresAt: number }) })
    setName('')
    onDone()
  }
  return (
    <div class="row">
      <Button kind="primary" onPress={() => setOpen(true)}>
        {devices.add}
      </Button>
      <Dialog
        title={devices.add}
        open={open}
        onClose={() => setOpen(false)}
        foot={
          <Button kind="primary" onPress={() => void make()}>
            {devices.make}
          </Button>
        }
      >
        <div class="stack">
          <Field label={devices.addName} hint={devices.addHint} value={name} onInput={setName} maxLength={60} onEnter={() => void make()} />
          <Choice
            label={devices.purpose}
            value={purpose}
            choices={(['staff', 'kiosk', 'board'] as const).map((value) => ({ value, says: devices.purposes[value] }))}
            onChange={(value) => setPurpose(value as Device['purpose'])}
          />
          {purpose === 'staff' && (
            <Choice
              label={devices.station}
              value={stationId}
              blank={devices.noStation}
              choices={stations.map(({ stationId, name }) => ({ value: stationId, says: name }))}
              onChange={setStation}
            />
          )}
        </div>
      </Dialog>
    </div>
  )
}
