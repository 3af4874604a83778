import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { dayViews } from '@musterbook/day/views'
import { canonical, digest } from '@musterbook/evidence/canonical'
import type { Draft } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { openProjections } from '@musterbook/projections/projections'
import { asKnown, Scrubber } from '@musterbook/replay/moments'

/** A morning with a hold over a wave, a stop and a correction. Invented. */
function morning(): ReturnType<typeof c.drive>['entries'] {
  const bibs = ['105', '107', '116']
  const day = c.drive()
  c.opened(bibs.map((bib) => c.expected(bib)))(day)
  c.all(
    c.ready(...bibs),
    c.tries('116', 'agility', 'a-1', c.seconds(1720)),
    c.tries('116', 'agility', 'a-2', c.seconds(1690)),
    c.reads(21),
    c.gun('wave', ['105', '107']),
    c.crosses('wave', '105', '2:00'),
    c.holds('hold'),
    c.disposes('hold'),
    c.stops('116'),
  )(day)
  return day.entries
}

test('as known at every version equals what the live picture showed when that version was the newest', async () => {
  const entries = morning()
  expect(entries.length).toBeGreaterThan(20)
  const folder = mkdtempSync(join(tmpdir(), 'as-known-'))
  const ledger = memoryLedger()
  const projections = openProjections({ ledger, file: join(folder, 'views.sqlite'), views: dayViews })
  try {
    await projections.ready
    const live: string[][] = []
    const asked = [
      ['board', 'all'],
      ['safety', 'all'],
      ['station', 'run'],
      ['record', 's107'],
      ['record', 's116'],
    ] as const
    for (const entry of entries) {
      const draft = { meta: { ...entry.meta, command: 'any', bodyDigest: digest(entry.meta.commandId), seenVersion: 0 }, ...bodyOf(entry) }
      await ledger.append(entry.stream, entry.version - 1, draft as Draft)
      live.push(
        await Promise.all(
          asked.map(async ([view, key]) => canonical((await projections.get(c.dayId, view, key, entry.version))?.body ?? null)),
        ),
      )
    }
    const scrubber = new Scrubber(c.dayId, entries, 7)
    for (const [at] of entries.entries()) {
      const known = asKnown(c.dayId, entries, { entries: at + 1 })
      const scrubbed = scrubber.at(at + 1)
      for (const [place, [view, key]] of asked.entries()) {
        const says = canonical(plain(dayViews[view].of(known, key)))
        expect(says, `${view} ${key} at ${at + 1}, live`).toBe(live[at]![place])
        expect(canonical(plain(dayViews[view].of(scrubbed, key))), `${view} ${key} at ${at + 1}, scrubbed`).toBe(says)
      }
    }
  } finally {
    await projections.close()
    rmSync(folder, { recursive: true })
  }
})

const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value ?? null))
const bodyOf = ({ recordedAt, events }: { recordedAt: number; events: unknown }) => ({ recordedAt, events })
