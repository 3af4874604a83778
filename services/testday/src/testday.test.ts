import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import type { DeviceId } from '@musterbook/vocabulary/ids'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { command, entriesOf, eventually, ledgerWith, minute, opening, siteEntry, start } from './controls.ts'
import { openTestDay, type Parts, type RunningTestDay } from './testday.ts'

const checkIn = (student: number, id?: string) =>
  command('d1', 'checkIn', { studentId: `s${student}`, secondIdentifier: 'photo' }, id ? { id } : {})

describe.each(['memory', 'SQLite'])('the test-day service on a ledger in %s', (kind) => {
  let folder: string
  let ledger: Ledger
  let now: number
  let running: RunningTestDay[]
  const clock = { now: () => now }
  const open = (changes: Partial<Parts> = {}): RunningTestDay => {
    const on = changes.ledger ?? ledger
    const siteHead = async (siteId: string) => (await ledger.head(`site/${siteId}`)).version
    const testday = openTestDay({ clock, rehearsalOnly: false, siteHead, ...changes, ledger: on })
    running.push(testday)
    return testday
  }
  const opened = async (students = 3, changes: Partial<Parts> = {}) => {
    const testday = open(changes)
    await testday.tell(command('d1', 'openDay', opening('d1', students), { id: 'open-d1' }))
    return testday
  }
  /** As far as the start of a run: checked in, cleared, warmed up. */
  const readied = async (testday: RunningTestDay, students: readonly string[]) => {
    for (const studentId of students) {
      await testday.tell(command('d1', 'checkIn', { studentId, secondIdentifier: 'photo' }))
      const clearance = { clearanceId: `cl-${studentId}`, studentId, status: 'cleared', limits: [], supersedes: null }
      await testday.tell(command('d1', 'recordClearance', clearance))
    }
    await testday.tell(command('d1', 'confirmWarmUp', { studentIds: students }))
  }
  const wave = (student: string, id = `wave-${student}`) =>
    command(
      'd1',
      'startWave',
      { waveId: id, stationId: 'run', runners: [{ studentId: student, attemptId: `run-${student}` }], official: true },
      { envelope: { occurredAt: now } },
    )
  const read = async (tenths: number, readAt: number, changes: Parameters<typeof siteEntry>[3] = {}) => {
    const { version } = await ledger.head('site/skarnvale')
    return ledger.append('site/skarnvale', version, siteEntry(version + 1, tenths, readAt, changes))
  }
  const eventsOf = async (stream: string) => (await entriesOf(ledger, stream)).flatMap((entry) => entry.events)
  const typesOf = async (stream: string) => (await eventsOf(stream)).map((event) => event.type)

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'testday-'))
    ledger = kind === 'memory' ? memoryLedger() : sqliteLedger({ file: join(folder, 'ledger.sqlite') })
    now = start
    running = []
  })
  afterEach(async () => {
    await Promise.all(running.map((testday) => testday.close()))
    await ledger.close()
    rmSync(folder, { recursive: true })
  })

  test('a day that another process has opened since is there, also for one that was asked before', async () => {
    const [one, other] = [open(), open()]
    expect(await other.tell(checkIn(1))).toEqual({ noSuchDay: true })
    await one.tell(command('d1', 'openDay', opening('d1')))
    expect(await other.tell(checkIn(2))).toHaveProperty('recorded')
  })

  test('there is no such day until it is opened, and it is opened once', async () => {
    const testday = open()
    expect(await testday.tell(checkIn(1))).toEqual({ noSuchDay: true })
    expect(await testday.tell(command('d1', 'openDay', opening('d1')))).toMatchObject({
      recorded: { stream: 'day/d1', version: 1 },
      toldTwice: false,
    })
    expect(await testday.tell(command('d1', 'openDay', opening('d1')))).toMatchObject({ refused: { rule: 'alreadyOpen' }, version: 2 })
    expect(await typesOf('day/d1')).toEqual(['dayOpened', 'studentExpected', 'studentExpected', 'studentExpected', 'actRefused'])
  })

  test('what carries a command, by both clocks, stands in its entry', async () => {
    const testday = await opened()
    now = start + 500
    await testday.tell(
      command('d1', 'checkIn', { studentId: 's1', secondIdentifier: 'photo' }, { id: 'c1', envelope: { offsetMs: -30, seenVersion: 1 } }),
    )
    expect((await entriesOf(ledger, 'day/d1'))[1]).toMatchObject({
      recordedAt: start + 500,
      meta: {
        commandId: 'c1',
        command: 'checkIn',
        personId: 'tomas',
        deviceId: 'tablet-1',
        occurredAt: start,
        offsetMs: -30,
        bandMs: 20,
        seenVersion: 1,
      },
    })
  })

  test('a clock at another speed opens rehearsals only', async () => {
    const testday = open({ rehearsalOnly: true })
    const real = command('d1', 'openDay', opening('d1', 3, { rehearsal: false }))
    expect(await testday.tell(real)).toMatchObject({ refused: { rule: 'notRehearsal' }, version: 0 })
    expect((await ledger.head('day/d1')).version).toBe(0)
    expect(await testday.tell(command('d2', 'openDay', opening('d2')))).toMatchObject({ recorded: { version: 1 } })
  })

  test('told twice, the first answer comes back and nothing is kept again', async () => {
    const testday = await opened()
    const told = checkIn(1, 'c1')
    const first = await testday.tell(told)
    await testday.tell(checkIn(2))
    expect(first).toMatchObject({ recorded: { version: 2, events: [{ type: 'checkedIn', studentId: 's1' }] }, toldTwice: false })
    expect(await testday.tell(told)).toEqual({ ...first, toldTwice: true })
    // Carried by somebody else, over another line, later: it is the same command.
    const carried = { ...told, by: { ...told.by, personId: null }, envelope: { ...told.envelope, contactAgeMs: 90_000, offsetMs: 7 } }
    expect(await testday.tell(carried)).toEqual({ ...first, toldTwice: true })
    expect((await ledger.head('day/d1')).version).toBe(3)
  })

  test('the same id with another body is turned away', async () => {
    const testday = await opened()
    await testday.tell(checkIn(1, 'c1'))
    expect(await testday.tell(checkIn(2, 'c1'))).toEqual({ commandIdReused: true })
    expect((await ledger.head('day/d1')).version).toBe(2)
  })

  test('a refusal is kept and said alike the second time, even when the day would say yes by then', async () => {
    const testday = await opened()
    const told = command('d1', 'callUp', { studentId: 's1', stationId: 'agility' }, { id: 'c1' })
    const first = await testday.tell(told)
    expect(first).toMatchObject({ refused: { rule: expect.any(String), studentId: 's1' }, version: 2, toldTwice: false })
    await testday.tell(checkIn(1))
    expect(await testday.tell(told)).toEqual({ ...first, toldTwice: true })
    expect(await typesOf('day/d1')).toContain('actRefused')
  })

  test('after a restart the day stands as it stood, and what was told is known', async () => {
    const before = await opened()
    const told = checkIn(1, 'c1')
    const first = await before.tell(told)
    await before.close()
    const after = open()
    expect(await after.tell(told)).toEqual({ ...first, toldTwice: true })
    expect(await after.tell(checkIn(1))).toMatchObject({ refused: { rule: 'alreadyCheckedIn' } })
  })

  test('two services on one ledger: every command once, in one order, decided on what stood before it', async () => {
    const one = await opened(20)
    const other = open()
    const told = Array.from({ length: 20 }, (_, index) => checkIn(index + 1, `c${index + 1}`))
    // Each command goes to both, and each student is checked in a second time under another id.
    const again = told.map((_, index) => checkIn(index + 1, `again-${index + 1}`))
    const answers = await Promise.all(
      told.flatMap((each, index) => [one.tell(each), other.tell(each), (index % 2 ? one : other).tell(again[index]!)]),
    )
    expect(answers).toHaveLength(60)
    const entries = await entriesOf(ledger, 'day/d1')
    expect(entries.map((entry) => entry.version)).toEqual(entries.map((_, index) => index + 1))
    const ids = entries.map((entry) => entry.meta.commandId)
    expect(new Set(ids).size).toBe(ids.length)
    expect(entries).toHaveLength(41)
    const checkedIn = entries.flatMap((entry) =>
      entry.events.filter((event) => event.type === 'checkedIn').map((event) => event['studentId']),
    )
    expect(checkedIn.toSorted()).toEqual(told.map((_, index) => `s${index + 1}`).toSorted())
    expect(entries.flatMap((entry) => entry.events.filter((event) => event.type === 'actRefused'))).toHaveLength(20)
  })

  test('a hold and an outdoor start told to two services never pass each other', async () => {
    const students = Array.from({ length: 12 }, (_, index) => `s${index + 1}`)
    const one = await opened(12)
    const other = open()
    await readied(one, students)
    await read(250, start)
    for (const student of students) {
      const hold = command(
        'd1',
        'raiseHold',
        { holdId: `hold-${student}`, kind: 'other', zoneId: 'track' },
        { envelope: { occurredAt: start - 10 * minute } },
      )
      const [started] = await Promise.all([one.tell(wave(student)), other.tell(hold)])
      if ('refused' in started) expect(started.refused.rule).toBe('holdInForce')
      else expect(started).toHaveProperty('recorded')
      const events = await eventsOf('day/d1')
      const raised = events.findIndex((event) => event.type === 'holdRaised' && event['holdId'] === `hold-${student}`)
      const began = events.findIndex((event) => event.type === 'attemptStarted' && event['studentId'] === student)
      if (began >= 0) {
        expect(began).toBeLessThan(raised)
        expect(events[raised]!['underWay']).toContainEqual(expect.objectContaining({ studentId: student }))
      }
      await liftAll(one)
    }
  })

  test('when the line dies after the entry was kept, it is found and answered as told once', async () => {
    let dying = 0
    const deaf = ledgerWith(ledger, {
      append: async (...told) => {
        const answer = await ledger.append(...told)
        if (told[2].meta.commandId === 'c1' && dying++ === 0) throw new Error('the line went dead')
        return answer
      },
    })
    const testday = await opened(3, { ledger: deaf })
    expect(await testday.tell(checkIn(1, 'c1'))).toMatchObject({ recorded: { version: 2 }, toldTwice: false })
    expect(await testday.tell(checkIn(2, 'c2'))).toMatchObject({ recorded: { version: 3 } })
    expect(await typesOf('day/d1')).toEqual([
      'dayOpened',
      'studentExpected',
      'studentExpected',
      'studentExpected',
      'checkedIn',
      'checkedIn',
    ])
  })

  test('when the line dies before, it is told again; and a line that stays dead is said, not answered', async () => {
    let dead = 3
    const flaky = ledgerWith(ledger, {
      append: async (...told) => {
        if (told[2].meta.commandId !== 'open-d1' && dead-- > 0) throw new Error('the line is dead')
        return ledger.append(...told)
      },
    })
    const testday = await opened(3, { ledger: flaky })
    expect(await testday.tell(checkIn(1, 'c1'))).toMatchObject({ recorded: { version: 2 }, toldTwice: false })
    dead = Number.MAX_SAFE_INTEGER
    await expect(testday.tell(checkIn(2, 'c2'))).rejects.toThrow('tell it again')
    dead = 0
    expect(await testday.tell(checkIn(2, 'c2'))).toMatchObject({ recorded: { version: 3 } })
  })

  test('a stop goes ahead of starts that wait, and of nothing that has happened', async () => {
    const testday = await opened()
    await readied(testday, ['s1'])
    await testday.tell(command('d1', 'joinQueue', { studentId: 's1', stationId: 'agility' }))
    const told = [
      testday.tell(checkIn(2)),
      testday.tell(command('d1', 'callUp', { studentId: 's1', stationId: 'agility' })),
      testday.tell(command('d1', 'stopStudent', { studentId: 's1', zoneId: null, reason: 'unwell' })),
    ]
    const [, calledUp] = await Promise.all(told)
    expect(calledUp).toMatchObject({ refused: { rule: 'stopped' } })
    expect((await typesOf('day/d1')).slice(-3)).toEqual(['checkedIn', 'studentStopped', 'actRefused'])
  })

  test('devices are remembered by when they were last heard', async () => {
    const testday = await opened()
    now = start + 2 * minute
    testday.heard('tablet-2' as DeviceId)
    expect([...testday.contactAges()]).toEqual([
      ['tablet-1', start],
      ['tablet-2', start + 2 * minute],
    ])
  })

  describe('readings of the site', () => {
    test('each goes into every open day once, and the hold that it calls for with it', async () => {
      const testday = await opened()
      await testday.tell(command('d2', 'openDay', opening('d2')))
      await testday.tell(command('d3', 'openDay', opening('d3', 3, { siteId: 'elsewhere' })))
      await read(250, start)
      await read(285, start + minute)
      for (const day of ['day/d1', 'day/d2']) {
        await eventually(
          () => ledger.head(day),
          (head) => head.version === 3,
        )
        expect((await entriesOf(ledger, day)).slice(1).map((entry) => entry.events)).toMatchObject([
          [{ type: 'readingReceived', readingId: 'reading-1', siteVersion: 1, readAt: start, wbgtTenths: 250 }],
          [
            { type: 'readingReceived', readingId: 'reading-2', siteVersion: 2 },
            { type: 'holdRaised', holdId: 'heat-2', kind: 'heat', zoneId: null, raisedBy: 'policy', readingId: 'reading-2' },
          ],
        ])
      }
      expect((await ledger.head('day/d3')).version).toBe(1)
    })

    test('two services and a restart never double one', async () => {
      const one = await opened()
      const other = open()
      await one.tell(command('d2', 'openDay', opening('d2')))
      for (let each = 1; each <= 10; each++) await read(each === 5 ? 285 : 250, start + each * minute)
      await eventually(
        async () => Promise.all(['day/d1', 'day/d2'].map((day) => ledger.head(day))),
        (heads) => heads.every((head) => head.version === 11),
      )
      await one.close()
      await other.close()
      open()
      await read(251, start + 11 * minute)
      for (const day of ['day/d1', 'day/d2']) {
        await eventually(
          () => ledger.head(day),
          (head) => head.version === 12,
        )
        const events = await eventsOf(day)
        expect(events.filter((event) => event.type === 'readingReceived').map((event) => event['siteVersion'])).toEqual([
          1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11,
        ])
        expect(events.filter((event) => event.type === 'holdRaised')).toHaveLength(1)
      }
    })

    test('an opening day takes over the newest of each zone, and the hold of a reading of that date', async () => {
      await read(285, start - minute)
      await read(255, start - minute, { zoneId: 'hall' })
      await read(286, start)
      const testday = await opened()
      expect((await entriesOf(ledger, 'day/d1'))[0]?.events.slice(-3)).toMatchObject([
        { type: 'readingReceived', readingId: 'reading-2', zoneId: 'hall' },
        { type: 'readingReceived', readingId: 'reading-3', zoneId: 'track' },
        { type: 'holdRaised', holdId: 'heat-3', underWay: [] },
      ])
      await testday.tell(checkIn(1))
      expect((await ledger.head('day/d1')).version).toBe(2)
    })

    test('yesterday’s heat is taken over as a reading and holds nobody', async () => {
      await read(295, start - 16 * 60 * minute)
      await opened()
      expect((await typesOf('day/d1')).slice(-1)).toEqual(['readingReceived'])
    })

    test('an opening day takes over the holds of the site’s other open days, and no hold that was lifted', async () => {
      const testday = await opened()
      await testday.tell(command('d1', 'raiseHold', { holdId: 'smoke', kind: 'air', zoneId: null }))
      await testday.tell(command('d2', 'openDay', opening('d2')))
      expect((await eventsOf('day/d2')).filter((event) => event.type === 'holdRaised')).toMatchObject([
        { holdId: 'smoke', kind: 'air', zoneId: null, raisedBy: 'takenOver' },
      ])
      expect(await testday.tell(command('d2', 'checkIn', { studentId: 's1', secondIdentifier: 'photo' }))).toMatchObject({
        recorded: { version: 2 },
      })
    })

    test('an outdoor start is decided on every reading that the site has', async () => {
      // Deaf to what comes in live: only the question at the start brings it in.
      const deaf = ledgerWith(ledger, { follow: async function* () {} })
      const testday = await opened(3, { ledger: deaf, pause: () => new Promise((resolve) => setTimeout(resolve, 20)) })
      await readied(testday, ['s1', 's2'])
      await read(250, start)
      expect(await testday.tell(wave('s1'))).toMatchObject({
        recorded: { events: [{ type: 'waveStarted' }, { type: 'attemptStarted', readingId: 'reading-1' }] },
      })
      now = start + minute
      await read(285, now)
      now = start + 2 * minute
      const refused = await testday.tell(wave('s2'))
      expect(testday.troubles().filter((trouble) => !trouble.startsWith('Readings'))).toEqual([])
      expect(refused).toMatchObject({ refused: { rule: 'holdInForce' } })
    })

    test('while nobody says how far the site has got, or it cannot be read so far, nothing starts outdoors', async () => {
      let answer: () => Promise<number> = () => Promise.reject(new Error('no answer'))
      const testday = await opened(3, { siteHead: () => answer() })
      await readied(testday, ['s1'])
      await read(250, start)
      expect(await testday.tell(wave('s1', 'w1'))).toMatchObject({
        refused: { rule: 'siteUnread' },
      })
      answer = async () => 2
      expect(await testday.tell(wave('s1', 'w2'))).toMatchObject({
        refused: { rule: 'siteUnread' },
      })
      answer = async () => 1
      expect(await testday.tell(wave('s1', 'w3'))).toMatchObject({ recorded: {} })
    })

    test('a reading is brought in although the ledger fails for a while', async () => {
      let failures = 15
      const flaky = ledgerWith(ledger, {
        append: async (...told) => {
          if (told[2].meta.commandId.startsWith('site-entry') && failures-- > 0) throw new Error('the disk is busy')
          return ledger.append(...told)
        },
      })
      const testday = await opened(3, { ledger: flaky, pause: () => Promise.resolve() })
      await read(285, start)
      await eventually(
        () => ledger.head('day/d1'),
        (head) => head.version === 2,
      )
      await eventually(
        () => testday.troubles(),
        (troubles) => troubles.length === 0,
      )
      expect(failures).toBeLessThan(0)
    })
  })

  describe('the seal', () => {
    const absentees = async (testday: RunningTestDay) => {
      for (const studentId of ['s1', 's2', 's3']) await testday.tell(command('d1', 'markAbsent', { studentId }))
    }

    test('closes the stream; what comes later stands behind it, and its first entry carries the seal', async () => {
      const testday = await opened()
      await absentees(testday)
      expect(await testday.tell(command('d1', 'sealDay', { acceptOpenReviews: null }))).toMatchObject({
        recorded: { version: 5, events: [{ type: 'daySealed' }] },
      })
      const sealed = await ledger.head('day/d1')
      expect(sealed).toMatchObject({ version: 5, sealed: true })

      const late = command('d1', 'reportHealthEvent', { studentId: 's1', words: null }, { id: 'late-1' })
      const first = await testday.tell(late)
      expect(first).toMatchObject({
        recorded: {
          stream: 'after/d1',
          version: 1,
          events: [{ type: 'afterOpened', sealedVersion: 5, sealedHash: sealed.hash }, { type: 'healthEventReported' }],
        },
      })
      expect(await testday.tell(checkIn(1, 'late-2'))).toMatchObject({ refused: { rule: 'sealed' }, version: 2 })
      expect(await testday.tell(late)).toEqual({ ...first, toldTwice: true })
      expect(await testday.tell(command('d1', 'openDay', opening('d1'), { id: 'open-d1' }))).toMatchObject({
        recorded: { stream: 'day/d1', version: 1 },
        toldTwice: true,
      })
      expect(await ledger.head('day/d1')).toEqual(sealed)

      const restarted = open()
      expect(await restarted.tell(late)).toEqual({ ...first, toldTwice: true })
    })

    test('a day that was cut off between saying so and closing is closed before anything else', async () => {
      let cut = true
      const dying = ledgerWith(ledger, {
        seal: (...told) => (cut ? Promise.reject(new Error('the line went dead')) : ledger.seal(...told)),
      })
      const testday = await opened(3, { ledger: dying })
      await absentees(testday)
      const told = command('d1', 'sealDay', { acceptOpenReviews: null }, { id: 'seal-1' })
      await expect(testday.tell(told)).rejects.toThrow('the line went dead')
      expect((await ledger.head('day/d1')).sealed).toBe(false)
      cut = false
      expect(await open({ ledger: dying }).tell(told)).toMatchObject({ recorded: { version: 5 }, toldTwice: true })
      expect((await ledger.head('day/d1')).sealed).toBe(true)
    })

    test('a sealed day is given no more readings', async () => {
      const testday = await opened()
      await absentees(testday)
      await testday.tell(command('d1', 'sealDay', { acceptOpenReviews: null }))
      await testday.tell(command('d2', 'openDay', opening('d2')))
      await read(285, start)
      await eventually(
        () => ledger.head('day/d2'),
        (head) => head.version === 2,
      )
      expect((await ledger.head('after/d1')).version).toBe(0)
    })
  })

  test('a day that cannot be read takes nothing and leaves the others running', async () => {
    const testday = await opened()
    const nonsense = { ...siteEntry(1, 250, start), events: [{ type: 'neverHeardOf' }] }
    await ledger.append('day/odd', 0, nonsense)
    await expect(testday.tell(command('odd', 'checkIn', { studentId: 's1', secondIdentifier: 'photo' }))).rejects.toThrow(
      'entry 1 of day/odd cannot be read',
    )
    await read(285, start)
    await eventually(
      () => ledger.head('day/d1'),
      (head) => head.version === 2,
    )
    expect(testday.troubles()).toEqual([expect.stringContaining('entry 1 of day/odd cannot be read')])
  })

  async function liftAll(testday: RunningTestDay) {
    for (const event of await eventsOf('day/d1')) {
      if (event.type !== 'holdRaised') continue
      const holdId = event['holdId']
      await testday.tell(command('d1', 'disposeHold', { holdId, disposition: 'stopAndWalkIn' }))
      await testday.tell(command('d1', 'proposeLift', { holdId, readingId: null, reason: { textId: 't1', digest: 'a'.repeat(64) } }))
      const second = { personId: 'ines' as never, roles: ['supervisor'] as never, deviceId: 'tablet-3' as DeviceId, countersigned: null }
      await testday.tell(command('d1', 'confirmLift', { holdId }, { by: second }))
    }
  }
})
