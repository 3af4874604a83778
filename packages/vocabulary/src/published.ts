import { z } from 'zod'
import { AccessEvent } from './access.ts'
import { CaseEvent } from './case.ts'
import { DayEvent } from './events.ts'
import { ClassEvent, DevicesEvent, EquipmentEvent, PeopleEvent, RulesEvent, StudentEvent, VenueEvent } from './office-events.ts'
import { SiteEvent } from './site.ts'

/** The streams of the ledger whose events are published, and what each may hold. */
const streams = [
  {
    channel: 'day',
    address: 'day/{dayId}',
    says: 'One test day at one site, in one order. Its sequence is its version.',
    events: DayEvent,
  },
  {
    channel: 'after',
    address: 'after/{dayId}',
    says: 'What came after a day was sealed: late facts, corrections, a reopening.',
    events: DayEvent,
  },
  { channel: 'site', address: 'site/{siteId}', says: 'Heat readings of a site and the holds that they call for.', events: SiteEvent },
  {
    channel: 'access',
    address: 'access/{siteId}',
    says: 'Sign-ons, openings of health data, acts refused for want of a role.',
    events: AccessEvent,
  },
  { channel: 'people', address: 'people/{siteId}', says: 'Staff of a site: roles and qualifications, no names.', events: PeopleEvent },
  {
    channel: 'devices',
    address: 'devices/{siteId}',
    says: 'Devices of a site: invited, enrolled, taken out of use.',
    events: DevicesEvent,
  },
  { channel: 'venue', address: 'venue/{siteId}', says: 'Zones, tracks and stations of a site.', events: VenueEvent },
  {
    channel: 'equipment',
    address: 'equipment/{siteId}',
    says: 'The register of scales, calipers, meters and watches.',
    events: EquipmentEvent,
  },
  { channel: 'class', address: 'class/{classId}', says: 'A class and who is in it.', events: ClassEvent },
  {
    channel: 'rules',
    address: 'rules/{siteId}',
    says: 'Protocols, norms and policies: proposed, adopted by two people, withdrawn.',
    events: RulesEvent,
  },
  {
    channel: 'student',
    address: 'student/{studentId}',
    says: 'One student over the years: norm sex and birth date corrected, by two people.',
    events: StudentEvent,
  },
  { channel: 'case', address: 'case/{caseId}', says: 'A dispute or a request: exhibits, statements, decision, letter.', events: CaseEvent },
] as const

const typeOf = (event: z.ZodObject): string => {
  const { type } = event.shape as { type: z.ZodLiteral<string> }
  return type.value
}

/** Every event of a stream by its name, as JSON Schema of draft 7, which AsyncAPI reads without being told. */
const schemasOf = (events: z.ZodType): Map<string, object> => {
  const options = (events as unknown as { options: readonly z.ZodObject[] }).options
  return new Map(options.map((event) => [typeOf(event), z.toJSONSchema(event, { target: 'draft-7', io: 'output' })]))
}

/**
 * An AsyncAPI 3 document of the ledger's streams. One message is one event; an entry of the ledger carries one or more of
 * them whole, with who, when by both clocks, and the hash of the entry before it.
 */
export function asyncApi(): Record<string, unknown> {
  const channels = streams.map(({ channel, address, says, events }) => {
    const names = [...schemasOf(events).keys()]
    const parameter = /\{(\w+)\}/.exec(address)?.[1] ?? 'id'
    return [
      channel,
      {
        address,
        description: says,
        parameters: { [parameter]: { description: 'Letters, digits and _ . : @ -' } },
        messages: Object.fromEntries(names.map((name) => [name, { $ref: `#/components/messages/${channel}.${name}` }])),
      },
    ] as const
  })
  const messages = streams.flatMap(({ channel, events }) =>
    [...schemasOf(events)].map(
      ([name, payload]) => [`${channel}.${name}`, { name, contentType: 'application/json', payload: withoutMeta(payload) }] as const,
    ),
  )
  return {
    asyncapi: '3.0.0',
    info: {
      title: 'Musterbook ledger',
      version: '1.0.0',
      description: 'Events of a physical-fitness test day, as the ledger keeps them. A recorded shape never changes.',
    },
    defaultContentType: 'application/json',
    channels: Object.fromEntries(channels),
    operations: Object.fromEntries(
      streams.map(({ channel }) => [`follow.${channel}`, { action: 'receive', channel: { $ref: `#/channels/${channel}` } }]),
    ),
    components: { messages: Object.fromEntries(messages) },
  }
}

const withoutMeta = (schema: object): object => Object.fromEntries(Object.entries(schema).filter(([key]) => key !== '$schema'))
