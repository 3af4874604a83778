import type { ActName } from './act-table.ts'
import type { BodyOf } from './acts.ts'
import type { By, Envelope } from './envelope.ts'
import type { DayEvent } from './events.ts'
import type { DayId } from './ids.ts'
import type { Refusal } from './refusals.ts'

/** One act that somebody asks for or tells of. */
export interface Command<A extends ActName = ActName> {
  act: A
  dayId: DayId
  by: By
  envelope: Envelope
  body: BodyOf<A>
}

/** What the day says back. The version is where it stands in the record: with it, the word is "in the record". */
export type Answer =
  | { recorded: { stream: string; version: number; events: readonly DayEvent[] }; toldTwice: boolean }
  | { refused: Refusal; version: number; toldTwice: boolean }
  /** The same command id was told before with another body: nothing was done with this one. */
  | { commandIdReused: true }
  | { noSuchDay: true }

/** The only way into a day. In one process a call; over NATS a request with a reply. */
export interface TestDay {
  tell(command: Command): Promise<Answer>
}
