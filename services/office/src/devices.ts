import { randomBytes } from 'node:crypto'
import type { DeviceId } from '@musterbook/vocabulary/ids'
import type { Device, Office, Told } from '@musterbook/vocabulary/office'
import { DevicesEvent } from '@musterbook/vocabulary/office-events'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import { type Book, book } from './book.ts'
import { type Desk, plainCode, readableCode } from './desk.ts'
import { having } from './with.ts'

type State = ReadonlyMap<DeviceId, Device>
export type DevicesBook = Book<State, DevicesEvent>

/** A code is typed into one device within the hour. */
const codeLastsMs = 3_600_000

export const devicesBook = (desk: Desk): DevicesBook =>
  book<State, DevicesEvent>(desk, { name: 'devices', schema: DevicesEvent, empty: new Map(), evolve })

function evolve(state: State, event: DevicesEvent): State {
  if (event.type === 'deviceInvited') {
    const { deviceId, name, purpose, stationId, expiresAt } = event
    return having(state, deviceId, { deviceId, name, purpose, stationId, expiresAt, state: 'invited', locked: null })
  }
  const known = state.get(event.deviceId)
  if (!known) return state
  if (event.type === 'deviceLocked') {
    const { personId, at, reason } = event
    return having(state, event.deviceId, { ...known, locked: { personId, at, reason } })
  }
  if (event.type === 'deviceUnlocked') return having(state, event.deviceId, { ...known, locked: null })
  return having(state, event.deviceId, { ...known, state: event.type === 'deviceEnrolled' ? 'enrolled' : 'revoked' })
}

/** Which devices belong to the house. A device proves itself by a token that only it has; here lies a keyed digest of it. */
export function devices(
  desk: Desk,
  book: DevicesBook,
  siteId: () => Promise<string>,
): Pick<Office, 'devices' | 'inviteDevice' | 'enrolDevice' | 'deviceOf' | 'revokeDevice' | 'lockDevice' | 'unlockDevice'> {
  const secrets = secretShelf(desk)
  const listed = async () => (await book.read(await siteId())).state

  return {
    devices: async () => [...(await listed()).values()],
    inviteDevice: async (body, told) => {
      const code = readableCode(10)
      const deviceId = desk.newId('device') as DeviceId
      const expiresAt = desk.now() + codeLastsMs
      const written = await book.write(await siteId(), 'inviteDevice', body, told, () => [
        { type: 'deviceInvited', deviceId, ...body, expiresAt },
      ])
      if ('refused' in written) return written
      const invited = written.events[0]
      // Told twice: the first code was not kept and cannot be said again, so a fresh one takes its place.
      if (invited?.type !== 'deviceInvited') throw new Error('inviteDevice wrote no invitation')
      secrets.keepCode(invited.deviceId, code)
      return { code, deviceId: invited.deviceId, expiresAt: invited.expiresAt }
    },
    enrolDevice: async (code, told) => {
      const deviceId = secrets.deviceOfCode(code)
      const device = deviceId && (await listed()).get(deviceId)
      if (!device) return officeRefusal('codeNotKnown')
      if (device.state === 'enrolled') return officeRefusal('codeUsed')
      if (device.state === 'revoked') return officeRefusal('deviceRevoked')
      if (desk.now() > device.expiresAt) return officeRefusal('codeExpired')
      return enrol(desk, book, await siteId(), device, told)
    },
    deviceOf: async (token) => {
      const deviceId = secrets.deviceOfToken(token)
      const device = deviceId && (await listed()).get(deviceId)
      return device && device.state === 'enrolled' ? device : null
    },
    revokeDevice: async (body, told) => {
      const written = await book.write(await siteId(), 'revokeDevice', body, told, (state) =>
        state.has(body.deviceId) ? [{ type: 'deviceRevoked', deviceId: body.deviceId }] : officeRefusal('noSuchDevice'),
      )
      if ('refused' in written) return written
      secrets.forget(body.deviceId)
      return { deviceId: body.deviceId }
    },
    lockDevice: async (body, told) => {
      const written = await book.write(await siteId(), 'lockDevice', body, told, (state) => {
        const device = state.get(body.deviceId)
        if (device?.state !== 'enrolled') return officeRefusal('noSuchDevice')
        if (device.locked) return officeRefusal('alreadyLocked')
        return [{ type: 'deviceLocked', personId: told.by.personId!, at: desk.now(), ...body }]
      })
      return 'refused' in written ? written : { deviceId: body.deviceId }
    },
    unlockDevice: async (body, told) => {
      const written = await book.write(await siteId(), 'unlockDevice', body, told, (state) => {
        const device = state.get(body.deviceId)
        if (!device) return officeRefusal('noSuchDevice')
        return device.locked ? [{ type: 'deviceUnlocked', ...body }] : officeRefusal('notLocked')
      })
      return 'refused' in written ? written : { deviceId: body.deviceId }
    },
  }
}

/** The token is told once, here. */
export async function enrol(desk: Desk, book: DevicesBook, siteId: string, device: Device, told: Told) {
  const token = randomBytes(32).toString('base64url')
  const event: DevicesEvent = { type: 'deviceEnrolled', deviceId: device.deviceId }
  const written = await book.write(siteId, 'enrolDevice', { deviceId: device.deviceId }, told, (state) =>
    state.get(device.deviceId)?.state === 'invited' ? [event] : officeRefusal('codeUsed'),
  )
  if ('refused' in written) return written
  if (written.toldTwice) return officeRefusal('codeUsed')
  secretShelf(desk).keepToken(device.deviceId, token)
  return { device: { ...device, state: 'enrolled' as const }, token }
}

function secretShelf({ people: store, keys }: Desk) {
  const keepCode = store.prepare(
    'INSERT INTO device (deviceId, codeMark) VALUES (?, ?) ON CONFLICT (deviceId) DO UPDATE SET codeMark = excluded.codeMark',
  )
  const keepToken = store.prepare(
    'INSERT INTO device (deviceId, tokenMark) VALUES (?, ?) ON CONFLICT (deviceId) DO UPDATE SET tokenMark = excluded.tokenMark',
  )
  const byCode = store.prepare('SELECT deviceId FROM device WHERE codeMark = ?').pluck()
  const byToken = store.prepare('SELECT deviceId FROM device WHERE tokenMark = ?').pluck()
  const forget = store.prepare('UPDATE device SET tokenMark = NULL WHERE deviceId = ?')
  const codeMark = (code: string) => keys.mark('secret', `code ${plainCode(code)}`)
  const tokenMark = (token: string) => keys.mark('secret', `token ${token}`)
  return {
    keepCode: (deviceId: DeviceId, code: string) => void keepCode.run(deviceId, codeMark(code)),
    keepToken: (deviceId: DeviceId, token: string) => void keepToken.run(deviceId, tokenMark(token)),
    deviceOfCode: (code: string) => byCode.get(codeMark(code)) as DeviceId | undefined,
    deviceOfToken: (token: string) => byToken.get(tokenMark(token)) as DeviceId | undefined,
    forget: (deviceId: DeviceId) => void forget.run(deviceId),
  }
}
