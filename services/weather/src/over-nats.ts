import type { NatsConnection } from '@nats-io/transport-node'
import { By, Envelope } from '@musterbook/vocabulary/envelope'
import { SiteId } from '@musterbook/vocabulary/ids'
import type { ReadingReceipt, Weather } from '@musterbook/vocabulary/ports'
import { TakeReading } from '@musterbook/vocabulary/site'
import { ask } from '@musterbook/wire/ask'
import type { Question } from '@musterbook/wire/question'
import { type Served, serve } from '@musterbook/wire/serve'
import { z } from 'zod'

/** Takes readings that come over NATS and tells how far a site's stream is written. Any number of processes do. */
export function serveWeather(connection: NatsConnection, weather: Weather): Served {
  const taking = serve(connection, takeQuestion, {
    queue: 'weather',
    answer: ({ reading, by, envelope }) => weather.take(reading, by, envelope),
  })
  const telling = serve(connection, headQuestion, { queue: 'weather', answer: ({ siteId }) => weather.headOf(siteId) })
  return {
    async close() {
      await Promise.all([taking.close(), telling.close()])
    },
  }
}

/** The weather as another process knows it. What nobody answered rejects: a reading is told again under the same command id, and an unknown head lets nothing start outdoors. */
export function weatherOverNats(connection: NatsConnection): Weather {
  return {
    take: (reading, by, envelope) => ask(connection, takeQuestion, { reading, by, envelope }),
    headOf: (siteId) => ask(connection, headQuestion, { siteId }),
  }
}

const takeQuestion: Question<{ reading: TakeReading; by: By; envelope: Envelope }, ReadingReceipt> = {
  subject: 'musterbook.ask.weather.take',
  asked: z.strictObject({ reading: TakeReading, by: By, envelope: Envelope }),
  said: z.strictObject({
    siteVersion: z.int().positive(),
    wbgtTenths: z.int().nullable(),
    unit: z.enum(['degC', 'degF']),
    band: z.string(),
    usable: z.boolean(),
    questions: z.array(z.string()),
    calledHold: z.boolean(),
  }),
  withinMs: 3_000,
  patienceMs: 12_000,
}

/** Whoever waits for it holds a start back: it is asked briefly, and then counts as not known. */
const headQuestion: Question<{ siteId: SiteId }, number> = {
  subject: 'musterbook.ask.weather.head',
  asked: z.strictObject({ siteId: SiteId }),
  said: z.int().nonnegative(),
  withinMs: 400,
  patienceMs: 700,
}
