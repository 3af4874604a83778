import type { NatsConnection } from '@nats-io/transport-node'
import type { ActName } from '@musterbook/vocabulary/act-table'
import { acts } from '@musterbook/vocabulary/acts'
import type { Answer, Command, TestDay } from '@musterbook/vocabulary/command'
import { By, Envelope } from '@musterbook/vocabulary/envelope'
import { DayEvent } from '@musterbook/vocabulary/events'
import { DayId, StationId, StudentId } from '@musterbook/vocabulary/ids'
import { type Rule, rules } from '@musterbook/vocabulary/refusals'
import { ask } from '@musterbook/wire/ask'
import type { Question } from '@musterbook/wire/question'
import { type Served, serve } from '@musterbook/wire/serve'
import { z } from 'zod'

/** Answers commands that come over NATS. Any number of processes do, and any of them may get any command: the ledger decides who was first. */
export function serveTestDay(connection: NatsConnection, testDay: TestDay): Served {
  return serve(connection, tellQuestion, { queue: 'testday', answer: (command) => testDay.tell(command) })
}

/** The test day as another process knows it. A command that nobody answered rejects: it is told again under the same command id. */
export function testDayOverNats(connection: NatsConnection): TestDay {
  return { tell: (command) => ask(connection, tellQuestion, command) }
}

const CommandOverNats = z.discriminatedUnion(
  'act',
  (Object.keys(acts) as [ActName, ...ActName[]]).map((act) =>
    z.strictObject({ act: z.literal(act), dayId: DayId, by: By, envelope: Envelope, body: acts[act].body }),
  ) as unknown as [z.ZodObject<{ act: z.ZodLiteral<ActName> }>],
)

const Refusal = z.strictObject({
  rule: z.enum(Object.keys(rules) as [Rule, ...Rule[]]),
  params: z.record(z.string(), z.union([z.string(), z.number()])),
  says: z.string(),
  next: z.string(),
  who: z.string(),
  studentId: StudentId.nullable(),
  stationId: StationId.nullable(),
})
const AnswerOverNats = z.union([
  z.strictObject({
    recorded: z.strictObject({ stream: z.string(), version: z.int().positive(), events: z.array(DayEvent) }),
    toldTwice: z.boolean(),
  }),
  z.strictObject({ refused: Refusal, version: z.int().nonnegative(), toldTwice: z.boolean() }),
  z.strictObject({ commandIdReused: z.literal(true) }),
  z.strictObject({ noSuchDay: z.literal(true) }),
])

/** Told twice is told once, so that a command whose process ended half-way is told to another. */
const tellQuestion: Question<Command, Answer> = {
  subject: 'musterbook.ask.testday.tell',
  asked: CommandOverNats as unknown as z.ZodType<Command>,
  said: AnswerOverNats,
  withinMs: 3_000,
  patienceMs: 12_000,
}
