import { digest } from '@musterbook/evidence/canonical'
import { bandAt } from '@musterbook/heat/classify'
import { callsForHold } from '@musterbook/heat/hold-policy'
import type { HeatPolicy } from '@musterbook/heat/policies'
import type { HeatReading } from '@musterbook/heat/reading'
import type { Draft, Entry, Ledger } from '@musterbook/ledger/ledger'
import { type By, type Envelope, happenedAt } from '@musterbook/vocabulary/envelope'
import type { HoldId, SiteId } from '@musterbook/vocabulary/ids'
import { metaOf } from '@musterbook/vocabulary/meta-of'
import type { ReadingReceipt, Weather } from '@musterbook/vocabulary/ports'
import { SiteEvent, type TakeReading } from '@musterbook/vocabulary/site'
import { findingOf, heatReadingOf } from './heat-reading.ts'

export interface Parts {
  ledger: Ledger
  /** The ledger's clock, epoch milliseconds. */
  clock: { now(): number }
  /** The heat policy that this site has adopted; undefined while it has none: then nothing calls for a hold. */
  policyOf: (siteId: SiteId) => Promise<HeatPolicy | undefined>
  /** Waits so many milliseconds; a simulation brings its own. */
  pause?: (ms: number) => Promise<void>
  /** From 0 up to 1, for the jitter between tries. */
  chance?: () => number
}

/** The only writer of site streams: readings in, and beside each the hold that it calls for. */
export function openWeather(parts: Parts): Weather {
  return new Desk(parts)
}

/** The same command id was told before with another reading. Nothing was done with this one: it needs an id of its own. */
export class CommandIdReused extends Error {
  override name = 'CommandIdReused'
}

const triesAtMost = 12
/** A jump is looked for within half an hour: so far back every instrument of a site has spoken. */
const lookBack = 60

type ReadingTaken = Extract<SiteEvent, { type: 'readingTaken' }>

interface Site {
  version: number
  /** The newest reading of each instrument at each place. */
  readonly newest: Map<string, HeatReading>
}

class Desk implements Weather {
  readonly #parts: Required<Parts>
  readonly #sites = new Map<SiteId, Site>()

  constructor(parts: Parts) {
    this.#parts = { pause: (ms) => new Promise((resolve) => setTimeout(resolve, ms)), chance: Math.random, ...parts }
  }

  /** Rejects when the ledger did not say whether it is kept: it is told again, under the same command id. */
  async take(reading: TakeReading, by: By, envelope: Envelope): Promise<ReadingReceipt> {
    const { ledger, pause, chance } = this.#parts
    const stream = `site/${reading.siteId}`
    const bodyDigest = digest({ reading, deviceSequence: envelope.deviceSequence, occurredAt: envelope.occurredAt })
    const policy = await this.#parts.policyOf(reading.siteId)
    let outcomeUnknown: unknown
    for (let tries = 1; tries <= triesAtMost; tries++) {
      const site = await this.#readOn(reading.siteId)
      const { version } = site
      const draft = this.#draft(reading, by, envelope, bodyDigest, site, policy)
      try {
        // A command that the stream has heard gets its first entry back, by whichever process it was told.
        const answer = await ledger.append(stream, version, draft)
        if ('appended' in answer) return receiptFrom(answer.appended)
        if ('commandIdReused' in answer) throw new CommandIdReused(`${stream} heard command ${envelope.commandId} with another reading`)
      } catch (error) {
        if (error instanceof CommandIdReused) throw error
        outcomeUnknown = error
      }
      await pause(tries * 4 * chance())
    }
    throw new Error(`${stream} did not take reading ${reading.readingId}: tell it again`, { cause: outcomeUnknown })
  }

  async headOf(siteId: SiteId): Promise<number> {
    return (await this.#parts.ledger.head(`site/${siteId}`)).version
  }

  async #readOn(siteId: SiteId): Promise<Site> {
    const { ledger } = this.#parts
    const stream = `site/${siteId}`
    const site = this.#sites.get(siteId) ?? { version: Math.max(0, (await this.headOf(siteId)) - lookBack), newest: new Map() }
    this.#sites.set(siteId, site)
    for await (const entry of ledger.read(stream, site.version)) {
      if (entry.version <= site.version) continue // Another reading was taken meanwhile, and has read it.
      for (const event of eventsOf(entry)) {
        if (event.type === 'readingTaken') site.newest.set(spotOf(event), heatReadingFrom(event, entry))
      }
      site.version = entry.version
    }
    return site
  }

  #draft(told: TakeReading, by: By, envelope: Envelope, bodyDigest: string, site: Site, policy: HeatPolicy | undefined): Draft {
    const reading = heatReadingOf(told, happenedAt(envelope))
    const unit = policy?.unit ?? 'degC'
    const finding = findingOf(reading, told.confirmed, site.newest.get(spotOf(told)), unit)
    const taken: ReadingTaken = {
      type: 'readingTaken',
      ...told,
      readBy: by.personId,
      wbgtTenths: finding.wbgt?.tenths ?? null,
      unit,
      band: policy && finding.wbgt ? bandAt(finding.wbgt.tenths, policy).band.id : '',
      usable: finding.usable,
      questions: finding.questions,
      method: finding.method,
    }
    const calls = policy && callsForHold(reading, policy).calls === 'hold'
    const events: SiteEvent[] = calls ? [taken, holdCalledBy(taken, site.version + 1, policy)] : [taken]
    return {
      meta: metaOf('takeReading', by, envelope, bodyDigest),
      recordedAt: this.#parts.clock.now(),
      events: events.map((event) => SiteEvent.parse(event)),
    }
  }
}

/** The hold stands over the place of its reading. Its id follows from the entry's number, of which a site has one each. */
const holdCalledBy = (taken: ReadingTaken, version: number, policy: HeatPolicy): SiteEvent => ({
  type: 'holdCalledFor',
  holdId: `heat-${version}` as HoldId,
  readingId: taken.readingId,
  zoneId: taken.zoneId,
  policyId: policy.id,
})

function receiptFrom(entry: Entry): ReadingReceipt {
  const events = eventsOf(entry)
  const taken = events.find((event) => event.type === 'readingTaken')
  if (!taken) throw new Error(`entry ${entry.version} of ${entry.stream} holds no reading`)
  const { wbgtTenths, unit, band, usable, questions } = taken
  const calledHold = events.some((event) => event.type === 'holdCalledFor')
  return { siteVersion: entry.version, wbgtTenths, unit, band, usable, questions, calledHold }
}

const eventsOf = (entry: Entry): SiteEvent[] => entry.events.map((event) => SiteEvent.parse(event))

const heatReadingFrom = (taken: ReadingTaken, entry: Entry): HeatReading => heatReadingOf(taken, happenedAt(entry.meta))

const spotOf = ({ zoneId, instrumentId }: { zoneId: string; instrumentId: string }) => `${zoneId} ${instrumentId}`
