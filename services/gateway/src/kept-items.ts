import { createHash } from 'node:crypto'
import type { LedgerReader } from '@musterbook/ledger/ledger'
import { AccessEvent, type UnreadBecause } from '@musterbook/vocabulary/access'
import type { CommandId, DeviceId, PersonId, TextId } from '@musterbook/vocabulary/ids'
import type { Office } from '@musterbook/vocabulary/office'
import type { AccessRecord } from './access-record.ts'

export interface KeptUnread {
  number: number
  deviceId: DeviceId
  personId: PersonId | null
  because: UnreadBecause
  act: string | null
  keptAt: number
  settledBy: PersonId | null
  textId: TextId
}

interface Unread {
  text: string
  because: UnreadBecause
  deviceId: DeviceId
  personId: PersonId | null
  commandId: CommandId | null
  act: string | null
}

/** What devices kept and the site could not read, and who has signed on where: both as the access record tells them. */
export interface KeptItems {
  /** Keeps it whole and answers its number. The same bytes again are the same item. */
  keep(unread: Unread): Promise<number>
  all(): Promise<readonly KeptUnread[]>
  settle(number: number, by: { personId: PersonId; deviceId: DeviceId }): Promise<boolean>
  /** Did this person prove themselves at this device at or after `since`? */
  hasSignedOn(deviceId: DeviceId, personId: PersonId, since: number): Promise<boolean>
  /** Writes down a sign-on out of contact, once. */
  signedOnOutOfContact(deviceId: DeviceId, personId: PersonId, since: number): Promise<void>
}

interface Parts {
  ledger: Pick<LedgerReader, 'read'>
  office: Pick<Office, 'site' | 'seal'>
  access: AccessRecord
}

export function keptItems({ ledger, office, access }: Parts): KeptItems {
  const items = new Map<number, KeptUnread>()
  const numbers = new Map<string, number>()
  const lastSignOn = new Map<string, number>()
  const outOfContact = new Set<string>()
  let read = 0
  let line: Promise<unknown> = Promise.resolve()

  /** One after the other: a number is given once. */
  const inLine = <Answer>(ask: () => Promise<Answer>): Promise<Answer> => {
    const answer = line.then(ask)
    line = answer.catch(() => {})
    return answer
  }

  const readOn = async () => {
    for await (const entry of ledger.read(`access/${(await office.site())?.siteId ?? 'none'}`, read)) {
      for (const event of entry.events) follow(AccessEvent.parse(event), entry.recordedAt)
      read = entry.version
    }
  }
  const follow = (event: AccessEvent, recordedAt: number) => {
    if (event.type === 'signedOn') lastSignOn.set(at(event), recordedAt)
    else if (event.type === 'signedOnOutOfContact') outOfContact.add(`${at(event)} ${event.since}`)
    else if (event.type === 'itemSettled') settled(event.number, event.personId)
    else if (event.type === 'itemKept') {
      const { number, deviceId, personId, because, act, item } = event
      items.set(number, { number, deviceId, personId, because, act, keptAt: recordedAt, settledBy: null, textId: item.textId })
      numbers.set(`${deviceId} ${event.sha256}`, number)
    }
  }
  const settled = (number: number, settledBy: PersonId) => {
    const item = items.get(number)
    if (item) items.set(number, { ...item, settledBy })
  }

  return {
    keep: ({ text, ...unread }) =>
      inLine(async () => {
        await readOn()
        const sha256 = createHash('sha256').update(text).digest('hex')
        const known = numbers.get(`${unread.deviceId} ${sha256}`)
        if (known !== undefined) return known
        const number = items.size + 1
        await access.tell({ type: 'itemKept', number, ...unread, sha256, item: await office.seal(text, 'general', null) })
        return number
      }),
    all: () => inLine(async () => (await readOn(), [...items.values()])),
    settle: (number, by) =>
      inLine(async () => {
        await readOn()
        const item = items.get(number)
        if (item && !item.settledBy) await access.tell({ type: 'itemSettled', number, ...by })
        return item !== undefined
      }),
    hasSignedOn: (deviceId, personId, since) =>
      inLine(async () => (await readOn(), (lastSignOn.get(at({ deviceId, personId })) ?? -Infinity) >= since)),
    signedOnOutOfContact: (deviceId, personId, since) =>
      inLine(async () => {
        await readOn()
        if (!outOfContact.has(`${at({ deviceId, personId })} ${since}`))
          await access.tell({ type: 'signedOnOutOfContact', deviceId, personId, since })
      }),
  }
}

const at = ({ deviceId, personId }: { deviceId: DeviceId; personId: PersonId }): string => `${deviceId} ${personId}`
