import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { checksIn, holds, tells, tomas } from '@musterbook/day/controls'
import type { Entry, Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import type { View } from '@musterbook/vocabulary/ports'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { draftOf, driven, eventually, smallViews, write } from './controls.ts'
import { NewestDays } from './newest-days.ts'
import { openProjections, type Parts, type Progress, type Projections } from './projections.ts'

const students = ['1', '2', '3']
const absent = students.map((bib) => tells('markAbsent', tomas, { studentId: `s${bib}` }))
const seal = tells('sealDay', tomas, { acceptOpenReviews: null })
const late = tells('reportHealthEvent', tomas, { studentId: 's1', words: null })

describe.each(['memory', 'SQLite'])('the read models of a ledger in %s', (kind) => {
  let folder: string
  let file: string
  let ledger: Ledger
  let opened: Projections[]
  const open = (changes: Partial<Parts> = {}): Projections => {
    const projections = openProjections({ ledger, file, views: smallViews(), ...changes })
    opened.push(projections)
    return projections
  }

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'projections-'))
    file = join(folder, 'views.sqlite')
    ledger = kind === 'memory' ? memoryLedger() : sqliteLedger({ file: join(folder, 'ledger.sqlite') })
    opened = []
  })
  afterEach(async () => {
    await Promise.all(opened.map((projections) => projections.close()))
    await ledger.close()
    rmSync(folder, { recursive: true })
  })

  test('rows follow the entries, and a reader may wait for a version', async () => {
    const projections = open()
    const { entries } = driven('d1', students, checksIn('1'), checksIn('2'))
    const waiting = projections.get('d1', 'board', 'all', 5)
    await write(ledger, entries)
    expect(await waiting).toEqual({ version: 5, body: { revision: 1, here: ['s1', 's2'], holds: [] } })
    expect(await projections.get('d1', 'record', 's2')).toEqual({ version: 5, body: { key: 's2', bib: '2' } })
    expect(await projections.get('d1', 'record', 'nobody')).toBeUndefined()
    expect(await projections.get('d1', 'nothing', 'all')).toBeUndefined()
    expect(await projections.days()).toEqual([{ version: 5, body: { dayId: 'd1', students: 3 } }])
  })

  test('a row that did not change is as new as what was read', async () => {
    const projections = open()
    await write(ledger, driven('d1', students, checksIn('1')).entries)
    expect(await projections.get('d1', 'day', 'all', 3)).toEqual({ version: 3, body: { dayId: 'd1', students: 3 } })
  })

  test('who waits for a version that does not come gets the newest there is, with its own version', async () => {
    const projections = open({ waitAtMostMs: 50 })
    await write(ledger, driven('d1', students).entries)
    expect(await projections.get('d1', 'day', 'all', 9)).toMatchObject({ version: 1 })
    expect(await projections.get('d9', 'day', 'all', 1)).toBeUndefined()
  })

  test('what was read before is there at once after a restart, and reading goes on', async () => {
    const { entries } = driven('d1', students, checksIn('1'), checksIn('2'))
    const before = open()
    await write(ledger, entries.slice(0, 3))
    await before.get('d1', 'board', 'all', 3)
    await before.close()
    await write(ledger, entries.slice(3))
    const after = open()
    expect(await after.get('d1', 'board', 'all')).toMatchObject({ body: { here: ['s1'] } })
    expect(await after.get('d1', 'board', 'all', 5)).toMatchObject({ version: 5, body: { here: ['s1', 's2'] } })
  })

  test('rows and checkpoint stand in the file together', async () => {
    const projections = open()
    await write(ledger, driven('d1', students, checksIn('1')).entries)
    await projections.get('d1', 'board', 'all', 3)
    const head = await ledger.head('day/d1')
    const db = new Database(file, { readonly: true })
    expect(db.prepare('SELECT * FROM checkpoints ORDER BY projection').all()).toEqual(
      ['board', 'day', 'record'].map((projection) => ({ projection, stream: 'day/d1', version: 3, hash: head.hash, revision: 1 })),
    )
    expect(db.prepare("SELECT body FROM rows WHERE projection = 'board'").all()).toEqual([
      { body: JSON.stringify({ revision: 1, here: ['s1'], holds: [] }) },
    ])
    db.close()
  })

  test('a projection whose revision rises is built from the first entry, sealed days too, with progress', async () => {
    await write(ledger, driven('d1', students, ...absent, seal, late).entries)
    await write(ledger, driven('d2', students, checksIn('1')).entries)
    const before = open()
    await before.ready
    await before.close()
    // A row that only the old code made goes.
    const views = smallViews(2, { record: { revision: 2, keys: () => ['s1'], of: () => 'new' } })
    const told: Progress[] = []
    const after = open({ views, onProgress: (progress) => told.push(progress) })
    await after.ready
    expect(await after.get('d1', 'board', 'all')).toEqual({ version: 6, body: { revision: 2, here: [], holds: [] } })
    expect(await after.get('d2', 'board', 'all')).toMatchObject({ version: 3, body: { revision: 2, here: ['s1'] } })
    expect(await after.get('d1', 'record', 's1')).toEqual({ version: 6, body: 'new' })
    expect(await after.get('d1', 'record', 's2')).toBeUndefined()
    expect(told).toEqual([
      { dayId: 'd1', read: 6, of: 6 },
      { dayId: 'd2', read: 3, of: 3 },
    ])
    const db = new Database(file, { readonly: true })
    expect(db.prepare("SELECT count(*) AS rows FROM rows WHERE projection = 'record'").get()).toEqual({ rows: 2 })
    db.close()
  })

  test('sealed days that are whole in the file are not read again', async () => {
    await write(ledger, driven('d1', students, ...absent, seal, late).entries)
    const before = open()
    await before.ready
    await before.close()
    const told: Progress[] = []
    const after = open({ onProgress: (progress) => told.push(progress) })
    await after.ready
    expect(told).toEqual([])
    expect(await after.get('d1', 'day', 'all')).toEqual({ version: 6, body: { dayId: 'd1', students: 3 } })
    expect(await after.days()).toHaveLength(1)
    // Whoever asks for the day itself, as a student's file does, has it all the same.
    expect(await after.newest('d1')).toMatchObject({ version: 5, afterVersion: 1 })
    expect(await after.newest('d2')).toBeUndefined()
    // What comes behind the seal wakes it.
    await ledger.append('after/d1', 1, {
      ...draftOf(driven('x', students).entries[0]!),
      events: [{ type: 'studentReferred', referralId: 'r', studentId: 's2', to: 'clinician' }],
    })
    expect(await after.get('d1', 'day', 'all', 7)).toMatchObject({ version: 7 })
  })

  test('the version of a day counts on over its seal', async () => {
    const projections = open()
    await write(ledger, driven('d1', students, ...absent, seal, late, late).entries)
    expect(await projections.get('d1', 'board', 'all', 7)).toMatchObject({ version: 7 })
    expect((await projections.entriesOf('d1', 4)).map((entry) => `${entry.stream} ${entry.version}`)).toEqual([
      'day/d1 5',
      'after/d1 1',
      'after/d1 2',
    ])
  })

  test('rows can be built anew on demand while readers look on', async () => {
    const projections = open()
    await write(ledger, driven('d1', students, checksIn('1')).entries)
    await projections.get('d1', 'board', 'all', 3)
    const db = new Database(file)
    db.prepare("UPDATE rows SET body = '{}' WHERE projection = 'board'").run()
    db.close()
    const told: Progress[] = []
    await projections.rebuild((progress) => told.push(progress))
    expect(told).toEqual([{ dayId: 'd1', read: 3, of: 3 }])
    const after = new Database(file, { readonly: true })
    expect(after.prepare("SELECT body FROM rows WHERE projection = 'board'").pluck().get()).toContain('s1')
    after.close()
    await write(ledger, driven('d1', students, checksIn('1'), checksIn('2')).entries.slice(3))
    expect(await projections.get('d1', 'board', 'all', 5)).toMatchObject({ version: 5, body: { here: ['s1', 's2'] } })
  })

  test('a view that cannot be made says so and stays what it was; the others go on', async () => {
    const views = smallViews(1, {
      record: {
        revision: 1,
        keys: () => ['s1'],
        of: (day) => {
          if (day.version > 2) throw new Error('never thought of')
          return day.version
        },
      },
    })
    const projections = open({ views })
    await write(ledger, driven('d1', students, checksIn('1'), checksIn('2')).entries.slice(0, 2))
    await projections.get('d1', 'record', 's1', 2)
    await write(ledger, driven('d1', students, checksIn('1'), checksIn('2')).entries.slice(2))
    expect(await projections.get('d1', 'board', 'all', 5)).toMatchObject({ version: 5 })
    expect(await projections.get('d1', 'record', 's1')).toEqual({ version: 2, body: 2 })
    expect(projections.lags().map(({ name, behind, stopped }) => ({ name, behind, stopped }))).toEqual([
      { name: 'day', behind: 0, stopped: null },
      { name: 'board', behind: 0, stopped: null },
      { name: 'record', behind: 3, stopped: 'record cannot be made of this day: never thought of' },
    ])
  })

  describe('watching', () => {
    test('the newest row comes at once, then each change, and a slow reader skips', async () => {
      const projections = open()
      const { entries } = driven('d1', students, checksIn('1'), checksIn('2'), checksIn('3'), holds('h1'))
      await write(ledger, entries.slice(0, 1))
      await projections.get('d1', 'board', 'all', 1)
      const stop = new AbortController()
      const seen: View[] = []
      const slow: View[] = []
      const watching = (async () => {
        for await (const view of projections.watch('d1', 'board', 'all', stop.signal)) seen.push(view)
      })()
      const watchingSlowly = (async () => {
        for await (const view of projections.watch('d1', 'board', 'all', stop.signal)) {
          slow.push(view)
          await new Promise((resolve) => setTimeout(resolve, 400))
        }
      })()
      for (const [index, entry] of entries.slice(1).entries()) {
        await write(ledger, [entry])
        await projections.get('d1', 'board', 'all', index + 2)
      }
      await eventually(
        () => slow.length,
        (length) => length >= 2,
      )
      stop.abort()
      await Promise.all([watching, watchingSlowly])
      expect(seen.map((view) => view.version)).toEqual([1, 2, 4, 6, 8])
      expect(slow.map((view) => view.version)).toEqual([1, 8])
      expect(slow.at(-1)).toEqual(seen.at(-1))
      expect(seen.at(-1)?.body).toMatchObject({ here: ['s1', 's2', 's3'], holds: ['h1'] })
    })

    test('who watches before there is anything is told when there is', async () => {
      const projections = open()
      const stop = new AbortController()
      const first = (async () => {
        for await (const view of projections.watch('d1', 'record', 's1', stop.signal)) return view
        return undefined
      })()
      await write(ledger, driven('d1', students).entries)
      expect(await first).toEqual({ version: 1, body: { key: 's1', bib: null } })
      stop.abort()
    })
  })

  test('the newest day is the same for whoever has no rows, behind the seal too', async () => {
    const projections = open()
    const days = new NewestDays(ledger)
    expect(await days.newest('d1')).toBeUndefined()
    const { entries } = driven('d1', students, ...absent, seal, late)
    await write(ledger, entries.slice(0, 3))
    expect((await days.newest('d1'))?.sealed).toBeNull()
    await write(ledger, entries.slice(3))
    await projections.get('d1', 'board', 'all', 6)
    expect(await days.newest('d1')).toMatchObject({ version: 5, afterVersion: 1 })
    expect(JSON.stringify(await days.newest('d1'))).toBe(JSON.stringify(await projections.newest('d1')))
  })

  test('entries come in pages', async () => {
    const projections = open()
    await write(ledger, driven('d1', students, checksIn('1'), checksIn('2')).entries)
    expect((await projections.entriesOf('d1', 1, 2)).map((entry) => entry.version)).toEqual([2, 3])
    expect(await projections.entriesOf('d1', 5)).toEqual([])
  })

  describe('a ledger that does not keep its promise', () => {
    const bend = (change: (entry: Entry) => Entry | undefined): Ledger => {
      const bent = async function* (entries: AsyncIterable<Entry>) {
        for await (const entry of entries) {
          const changed = change(entry)
          if (changed) yield changed
        }
      }
      return {
        head: (...asked) => ledger.head(...asked),
        streams: (...asked) => ledger.streams(...asked),
        find: (...asked) => ledger.find(...asked),
        append: (...asked) => ledger.append(...asked),
        seal: (...asked) => ledger.seal(...asked),
        close: () => ledger.close(),
        read: (...asked) => bent(ledger.read(...asked)),
        follow: (...asked) => bent(ledger.follow(...asked)),
      }
    }
    const stoppedOf = (projections: Projections, dayId: string) =>
      projections
        .lags()
        .filter((lag) => lag.dayId === dayId)
        .map((lag) => lag.stopped)

    test.each([
      ['a gap', (entry: Entry) => (entry.version === 3 ? undefined : entry), 'entry 4 of day/d1 stands where entry 3 belongs'],
      [
        'a bent entry',
        (entry: Entry) => (entry.version === 3 ? { ...entry, recordedAt: 1 } : entry),
        'entry 3 of day/d1 does not have the content',
      ],
      [
        'another chain',
        (entry: Entry) => (entry.version === 3 ? { ...entry, prevHash: 'f'.repeat(64) } : entry),
        'entry 3 of day/d1 does not name the hash',
      ],
    ])('%s stops the day, and the others go on', async (_, change, sentence) => {
      const projections = open({ ledger: bend((entry) => (entry.stream === 'day/d1' ? change(entry) : entry)) })
      await projections.ready
      await write(ledger, driven('d1', students, checksIn('1'), checksIn('2')).entries)
      await eventually(
        () => stoppedOf(projections, 'd1'),
        (stopped) => stopped.every((each) => each?.includes(sentence)) && stopped.length === 3,
      )
      await write(ledger, driven('d2', students, checksIn('1')).entries)
      expect(await projections.get('d2', 'board', 'all', 3)).toMatchObject({ version: 3 })
      expect(await projections.get('d1', 'board', 'all')).toMatchObject({ version: 2, body: { here: ['s1'] } })
      expect(
        projections
          .lags()
          .filter((lag) => lag.dayId === 'd1')
          .map((lag) => lag.behind),
      ).toEqual([3, 3, 3])
    })

    test('an entry that says nothing known stops the day', async () => {
      const projections = open()
      await write(ledger, driven('d1', students).entries)
      await ledger.append('day/d1', 1, {
        ...draftOf(driven('d1', students, checksIn('1')).entries[1]!),
        events: [{ type: 'neverHeardOf' }],
      })
      await eventually(
        () => stoppedOf(projections, 'd1'),
        (stopped) => Boolean(stopped[0]?.includes('entry 2 of day/d1 cannot be read')),
      )
    })

    test('what was only told out of turn is read again and stops nothing', async () => {
      let hidden = true
      const forgetful = bend((entry) => entry)
      const projections = open({
        ledger: {
          ...forgetful,
          follow: async function* (...asked) {
            for await (const entry of ledger.follow(...asked)) {
              if (hidden && entry.version === 3) hidden = false
              else yield entry
            }
          },
        },
      })
      await projections.ready
      const { entries } = driven('d1', students, checksIn('1'), checksIn('2'))
      for (const entry of entries) await write(ledger, [entry])
      expect(await projections.get('d1', 'board', 'all', 5)).toMatchObject({ version: 5, body: { here: ['s1', 's2'] } })
      expect(hidden).toBe(false)
    })

    test('rows built on another ledger are not carried on, until they are built anew', async () => {
      const other = memoryLedger()
      const { entries } = driven('d1', students, checksIn('1'), checksIn('2'))
      await write(other, entries)
      const before = open({ ledger: other })
      await before.ready
      await before.close()

      await write(ledger, driven('d1', students, checksIn('3')).entries)
      const after = open()
      await after.ready
      expect(stoppedOf(after, 'd1')[0]).toMatch(/entry 3 of day\/d1 is not the one|day\/d1 ends at 3, and \w+ had read 5/)
      await after.rebuild()
      expect(stoppedOf(after, 'd1')).toEqual([null, null, null])
      expect(await after.get('d1', 'board', 'all')).toMatchObject({ version: 3, body: { here: ['s3'] } })
      await write(ledger, driven('d1', students, checksIn('3'), checksIn('1')).entries.slice(3))
      expect(await after.get('d1', 'board', 'all', 5)).toMatchObject({ version: 5, body: { here: ['s1', 's3'] } })
    })

    test('a ledger whose tail was cut is found out', async () => {
      const other = memoryLedger()
      const { entries } = driven('d1', students, checksIn('1'), checksIn('2'))
      await write(other, entries)
      const before = open({ ledger: other })
      await before.ready
      await before.close()
      await write(ledger, entries.slice(0, 3))
      const after = open()
      await after.ready
      expect(stoppedOf(after, 'd1')[0]).toMatch(/^day\/d1 ends at 3, and \w+ had read 5$/)
      expect(await after.get('d1', 'board', 'all')).toMatchObject({ version: 5, body: { here: ['s1', 's2'] } })
    })

    test('a ledger that fails for a while is said, and read on', async () => {
      let failing = false
      const projections = open({
        ledger: {
          ...bend((entry) => entry),
          read: async function* (...asked) {
            if (failing) throw new Error('the disk is busy')
            yield* ledger.read(...asked)
          },
          follow: async function* (...asked) {
            for await (const entry of ledger.follow(...asked)) if (entry.version !== 2) yield entry
          },
        },
      })
      const { entries } = driven('d1', students, checksIn('1'))
      await write(ledger, entries.slice(0, 1))
      await projections.get('d1', 'day', 'all', 1)
      failing = true
      await write(ledger, entries.slice(1))
      await eventually(
        () => stoppedOf(projections, 'd1'),
        (stopped) => stopped[0] === 'the disk is busy',
      )
      failing = false
      expect(await projections.get('d1', 'board', 'all', 3)).toMatchObject({ version: 3, body: { here: ['s1'] } })
      expect(stoppedOf(projections, 'd1')).toEqual([null, null, null])
    })
  })
})
