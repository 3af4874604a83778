import { timingSafeEqual } from 'node:crypto'
import type { DeviceId, PersonId, SiteId } from '@musterbook/vocabulary/ids'
import type { Device, Office } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import { isTimeZone } from './civil-date.ts'
import { type Desk, plainCode, readableCode } from './desk.ts'
import { type DevicesBook, enrol } from './devices.ts'
import { nameShelf, type PeopleBook } from './people.ts'
import { hashPin, isTooSimple } from './pins.ts'
import { tries } from './tries.ts'
import type { VenueBook } from './venue.ts'

interface Books {
  people: PeopleBook
  devices: DevicesBook
  venue: VenueBook
}

/** The first start on an empty folder: one code, one site, one coordinator, one device. */
export function setUp(desk: Desk, books: Books, site: Office['site']): Pick<Office, 'setUpNeeded' | 'newSetUpCode' | 'setUp'> {
  const keepCode = desk.people.prepare('REPLACE INTO setUp (one, codeMark) VALUES (1, ?)')
  const findCode = desk.people.prepare('SELECT codeMark FROM setUp').pluck()
  const spendCode = desk.people.prepare('DELETE FROM setUp')
  const markOf = (code: string) => desk.keys.mark('secret', `set-up ${plainCode(code)}`)
  const counted = tries(desk.people)
  const limits = [{ who: 'set-up', free: 5, forgive: true }]

  const codeFits = (code: string): boolean => {
    const kept = findCode.get() as string | undefined
    return kept !== undefined && timingSafeEqual(Buffer.from(kept, 'hex'), Buffer.from(markOf(code), 'hex'))
  }

  return {
    setUpNeeded: async () => (await site()) === null,
    newSetUpCode: async () => {
      if ((await site()) !== null) return null
      const code = readableCode(12)
      keepCode.run(markOf(code))
      return (code.match(/.{4}/g) ?? [code]).join('-')
    },
    setUp: async (body, told) => {
      if ((await site()) !== null) return officeRefusal('alreadySetUp')
      const seconds = counted.take(limits, desk.now())
      if (seconds > 0) return officeRefusal('tooManyTries', { seconds })
      if (!codeFits(body.code)) return officeRefusal('wrongSetUpCode')
      counted.right(limits)
      const { name, timeZone, zones, stations } = body.site
      if (!isTimeZone(timeZone)) return officeRefusal('noSuchTimeZone', { timeZone })
      if (isTooSimple(body.coordinator.pin)) return officeRefusal('pinTooSimple')
      if (stations.some(({ zoneId }) => !zones.some((zone) => zone.zoneId === zoneId))) return officeRefusal('noSuchZone')

      const siteId = body.site.siteId ?? (desk.newId('site') as SiteId)
      const personId = await addCoordinator(desk, books.people, siteId, body.coordinator, told)
      const { device, token } = await addFirstDevice(desk, books.devices, siteId, body.deviceName, told)
      // The site last: until it stands, nothing was set up and the code is still good.
      const written = await books.venue.write(siteId, 'setUp', { siteId, name, timeZone, zones, stations }, told, () => [
        { type: 'siteSetUp', siteId, name, timeZone },
        ...zones.map((zone) => ({ type: 'zonePlaced' as const, ...zone })),
        ...stations.map((station) => ({ type: 'stationPlaced' as const, ...station })),
      ])
      if ('refused' in written) return written
      spendCode.run()
      return { siteId, personId, deviceId: device.deviceId, deviceToken: token }
    },
  }
}

type Told = Parameters<Office['setUp']>[1]

async function addCoordinator(desk: Desk, book: PeopleBook, siteId: SiteId, { name, pin }: { name: string; pin: string }, told: Told) {
  const names = nameShelf(desk)
  const personId = desk.newId('person') as PersonId
  names.keep(personId, name)
  names.keepPin(personId, await hashPin(desk, pin))
  const apart = partOf(told, 'people', desk)
  const written = await book.write(siteId, 'setUp', { personId }, apart, () => [
    { type: 'personAdded', personId, roles: ['coordinator'] },
    { type: 'pinSet', personId, own: true },
  ])
  if ('refused' in written) throw new Error(`setting up: ${written.refused.says}`)
  return personId
}

async function addFirstDevice(desk: Desk, book: DevicesBook, siteId: SiteId, name: string, told: Told) {
  const device: Device = {
    deviceId: desk.newId('device') as DeviceId,
    name,
    purpose: 'staff',
    stationId: null,
    state: 'invited',
    locked: null,
    expiresAt: desk.now(),
  }
  const { state: _, locked: __, ...invited } = device
  const written = await book.write(siteId, 'setUp', { deviceId: device.deviceId }, partOf(told, 'invite', desk), () => [
    { type: 'deviceInvited', ...invited },
  ])
  const enrolled = 'refused' in written ? written : await enrol(desk, book, siteId, device, partOf(told, 'enrol', desk))
  if ('refused' in enrolled) throw new Error(`setting up: ${enrolled.refused.says}`)
  return enrolled
}

/** A part of the set-up has an id of its own: a second try after a crash must not meet the half of the first. */
const partOf = (told: Told, part: string, desk: Desk): Told => ({
  ...told,
  envelope: { ...told.envelope, commandId: desk.newId(`set-up-${part}`) as Told['envelope']['commandId'] },
})
