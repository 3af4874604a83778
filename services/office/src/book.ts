import { canonical } from '@musterbook/evidence/canonical'
import type { Draft, LedgerEvent, StreamName } from '@musterbook/ledger/ledger'
import { metaOf } from '@musterbook/vocabulary/meta-of'
import type { Told } from '@musterbook/vocabulary/office'
import { type OfficeRefusal, officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { z } from 'zod'
import type { Desk } from './desk.ts'

/** The streams of one kind, of which the office is the only writer: each folded as far as it was read, and read on before each use. */
export interface Book<State, Event> {
  /** The stream as it stands now. */
  read(id: string): Promise<{ version: number; state: State }>
  /** Ids of all streams of this kind. */
  ids(): Promise<string[]>
  /** Decides on the newest state and writes; a command told before gets its first events back. No events: nothing is written. */
  write(
    id: string,
    act: string,
    body: unknown,
    told: Told,
    decide: (state: State, version: number) => Decided<Event>,
  ): Promise<Written<Event>>
}
type Decided<Event> = readonly Event[] | { refused: OfficeRefusal }
export type Written<Event> = { events: readonly Event[]; toldTwice: boolean; recordedAt: number } | { refused: OfficeRefusal }

interface Kind<State, Event> {
  name: string
  schema: z.ZodType<Event>
  empty: State
  evolve(state: State, event: Event, entry: { recordedAt: number; version: number; meta: { personId: string | null } }): State
}

export function book<State, Event extends LedgerEvent>(desk: Desk, kind: Kind<State, Event>): Book<State, Event> {
  const kept = new Map<string, { version: number; state: State }>()
  const streamOf = (id: string): StreamName => `${kind.name}/${id}`

  const read = async (id: string) => {
    let at = kept.get(id) ?? { version: 0, state: kind.empty }
    for await (const entry of desk.ledger.read(streamOf(id), at.version)) {
      const state = entry.events.reduce<State>((state, event) => kind.evolve(state, kind.schema.parse(event), entry), at.state)
      at = { version: entry.version, state }
    }
    // Two reads may run at once; the one that got further is kept.
    if (at.version >= (kept.get(id)?.version ?? 0)) kept.set(id, at)
    return at
  }

  return {
    read,
    ids: async () => (await desk.ledger.streams(`${kind.name}/`)).map(({ stream }) => stream.slice(kind.name.length + 1)),
    write: async (id, act, body, told, decide) => {
      const bodyDigest = desk.keys.mark('command', canonical({ act, body }))
      const heard = await desk.ledger.find(streamOf(id), told.envelope.commandId)
      if (heard && heard.meta.bodyDigest !== bodyDigest) return officeRefusal('commandIdReused')
      if (heard) return { events: heard.events.map((event) => kind.schema.parse(event)), toldTwice: true, recordedAt: heard.recordedAt }

      for (let tries = 0; tries < 5; tries++) {
        const { version, state } = await read(id)
        const decided = decide(state, version)
        if ('refused' in decided) return decided
        const recordedAt = desk.now()
        if (decided.length === 0) return { events: [], toldTwice: false, recordedAt }
        const events = decided.map((event) => kind.schema.parse(event))
        const answer = await desk.ledger.append(streamOf(id), version, draftOf(act, bodyDigest, told, recordedAt, events))
        if ('appended' in answer) return { events, toldTwice: answer.toldTwice, recordedAt }
        if ('commandIdReused' in answer) return officeRefusal('commandIdReused')
        if ('sealed' in answer)
          throw new Error(`${streamOf(id)} is sealed at version ${answer.sealed.version}: the office's own books never are`)
      }
      return officeRefusal('tryAgain')
    },
  }
}

/** The digest of the body is keyed: a plain one of a short body, a name or a PIN, could be found by trying. */
const draftOf = (act: string, bodyDigest: string, { by, envelope }: Told, recordedAt: number, events: readonly LedgerEvent[]): Draft => ({
  meta: metaOf(act, by, envelope, bodyDigest),
  recordedAt,
  events,
})
