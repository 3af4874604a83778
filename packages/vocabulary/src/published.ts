import { z } from 'zod'
import { AccessEvent } from './access.ts'
import { DayEvent } from './events.ts'
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
] as const

const typeOf = (event: z.ZodObject): string => {
  const { type } = event.shape as { type: z.ZodLiteral<string> }
  return type.value
}

/** Every event of a stream by its name, as JSON Schema 2020-12. */
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
