import { describe, expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { evolve } from '@musterbook/day/evolve'
import { emptyDay } from '@musterbook/day/day'
import { happenedAt } from '@musterbook/vocabulary/envelope'
import { DayEvent } from '@musterbook/vocabulary/events'
import type { WaveId } from '@musterbook/vocabulary/ids'
import { differences, parting, recordBytes, recordBytesOf } from './compare.ts'
import { explain } from './explain.ts'
import { asCorrected, asKnown, fold, notOrdered, Scrubber } from './moments.ts'
import { whatIf } from './what-if.ts'

/** Marek's run of the dispute: six taps, the third lap twice as long as the others. Invented. */
function disputed() {
  const day = c.drive()
  day.tell(
    'openDay',
    c.ines,
    { facts: c.demoFacts(), rules: c.demoRules(), expected: [c.expected('107 M 25'), c.expected('117 M 25')] } as never,
    { at: '07:30' },
  )
  for (const bib of ['107', '117']) {
    day.tell('checkIn', c.kiosk, { studentId: c.studentId(bib), secondIdentifier: 'birthDate' })
    day.tell('bindBib', c.kiosk, { studentId: c.studentId(bib), bib: bib as never })
    day.tell('recordClearance', c.petra, {
      clearanceId: `clearance-${bib}` as never,
      studentId: c.studentId(bib),
      status: 'cleared',
      limits: [],
      supersedes: null,
    })
  }
  day.tell('confirmWarmUp', c.wren, { studentIds: [c.studentId('107'), c.studentId('117')] })
  day.reading(21, { readAt: '09:55' })
  day.tell(
    'startWave',
    c.wren,
    {
      waveId: 'wave-1' as WaveId,
      stationId: 'run' as never,
      official: true,
      runners: [{ studentId: c.studentId('107'), attemptId: 'run-107' as never }],
    },
    { at: '10:00:00' },
  )
  const taps = ['10:02:00', '10:04:01', '10:08:06', '10:10:10', '10:12:12']
  taps.forEach((at, lap) => {
    day.tell(
      'recordCrossing',
      c.wren,
      { observationId: `tap-${lap + 1}` as never, waveId: 'wave-1' as WaveId, studentId: c.studentId('107'), line: 'lap' },
      { at },
    )
    if (lap === 2)
      day.tell(
        'answerPrompt',
        c.wren,
        {
          prompt: 'possibleMissedCrossing',
          studentId: c.studentId('107'),
          attemptId: 'run-107' as never,
          shown: 'possible missed crossing (interval 4:05, own pace about 2:00)',
          answer: 'dismissed',
          reason: c.words,
        },
        { at: '10:08:20' },
      )
  })
  day.tell(
    'recordCrossing',
    c.wren,
    { observationId: 'tap-6' as never, waveId: 'wave-1' as WaveId, studentId: c.studentId('107'), line: 'finish' },
    { at: '10:14:22' },
  )
  return day
}

const run = (day: ReturnType<typeof c.drive>['day']) => {
  const record = explain(day, [], c.studentId('107'), 'run' as never)
  return record && [record.result.says, record.result.placing]
}

describe('a dispute over a lap', () => {
  test('as recorded, 14:22 stands at the 10th; with a lap inferred near 6:03 it would be 12:12 at the 50th, and the record has not moved', () => {
    const day = disputed()
    expect(run(day.day)).toEqual(['14:22', '10th'])
    const before = recordBytes(day.day)
    const supposed = whatIf(c.dayId, day.entries, [
      { kind: 'inferLap', waveId: 'wave-1' as WaveId, studentId: c.studentId('107'), elapsedMs: 363_000 },
    ])
    expect(run(supposed.day)).toEqual(['12:12', '50th'])
    expect(supposed.moves.map(({ bib, before: was, after: is }) => [bib, was.placing, is.placing])).toEqual([['107', '10th', '50th']])
    expect(recordBytes(day.day)).toBe(before)
  })

  test('the prompt and its dismissal are known at their time, and not a moment sooner', () => {
    const { entries } = disputed()
    expect(asKnown(c.dayId, entries, { by: 'recorded', at: c.clock('10:08:10') }).prompts).toHaveLength(0)
    const [prompt] = asKnown(c.dayId, entries, { by: 'recorded', at: c.clock('10:08:20') }).prompts
    expect(prompt?.event.shown).toContain('interval 4:05')
    expect(prompt?.told.personId).toBe('wren')
  })

  test('the number explains itself down to each tap', () => {
    const day = disputed()
    const why = explain(day.day, day.entries, c.studentId('107'), 'run' as never)
    expect(why?.all.filter((one) => one.type === 'crossingRecorded')).toHaveLength(6)
    expect(why?.lines.some((line) => line.step.step === 'lookedUp' && line.step.gives.includes('10th'))).toBe(true)
    expect(why?.lines.some((line) => line.entries.some((one) => one.type === 'finishRecorded'))).toBe(true)
  })
})

test('a scale that showed 1.60 kg too much moves 87.5 kg on 80.00 kg from the 50th to the 60th, by a named error model', () => {
  const day = disputed()
  const studentId = c.studentId('117')
  day.tell('weigh', c.petra, {
    studentId,
    mass: { amount: 80_000, unit: 'grams', resolution: 50, method: 'scale' },
    scaleId: 'S-2' as never,
    keptUnusual: false,
  })
  day.tell('startAttempt', c.colm, {
    attemptId: 'bench-117' as never,
    studentId,
    stationId: 'benchPress' as never,
    official: true,
    load: c.kilograms(875),
    equipmentIds: [],
    observerId: null,
    earlyBecause: null,
  })
  day.tell('recordResult', c.colm, {
    observationId: 'o-117' as never,
    attemptId: 'bench-117' as never,
    studentId,
    stationId: 'benchPress' as never,
    outcome: 'good',
    value: c.kilograms(875),
    folds: [],
    fault: null,
    equipmentIds: [],
    keptUnusual: false,
    official: true,
    photoDigest: null,
    fromPaper: null,
  })
  const supposed = whatIf(c.dayId, day.entries, [{ kind: 'instrument', equipmentId: 'S-2' as never, model: { constant: 1600 } }])
  expect(supposed.moves.map(({ before, after }) => [before.says, before.placing, after.says, after.placing])).toEqual([
    ['109 %', '50th', '112 %', '60th'],
  ])
  // The same scale, reading 41.60 for 40.00: 4 % too much of whatever stands on it, so 80.00 were 76.92 and 87.5 are 114 % of that.
  const inProportion = whatIf(c.dayId, day.entries, [
    { kind: 'instrument', equipmentId: 'S-2' as never, model: { proportionalMillionths: 40_000 } },
  ])
  expect(inProportion.moves.map(({ after }) => [after.says, after.placing])).toEqual([['114 %', '60th']])
})

describe('what is supposed of a run counts its laps again', () => {
  const entryOf = (day: ReturnType<typeof disputed>, type: string, nth = 0) => {
    const { stream, version } = day.entries.filter(({ events }) => events.some((event) => event.type === type))[nth]!
    return { stream, version }
  }
  const supposing = (...suppositions: Parameters<typeof whatIf>[2]) => run(whatIf(c.dayId, disputed().entries, suppositions).day)

  test('a tap left out leaves five laps: the result is withheld', () => {
    const { day } = whatIf(c.dayId, disputed().entries, [{ kind: 'leaveOut', entries: [entryOf(disputed(), 'crossingRecorded', 1)] }])
    const why = explain(day, [], c.studentId('107'), 'run' as never)
    expect([why?.result.state, why?.result.placing]).toEqual(['underReview', null])
    expect([...day.anomalies]).toEqual([])
  })

  test('with a lap inferred beside the one left out it is whole again', () => {
    expect(
      supposing(
        { kind: 'leaveOut', entries: [entryOf(disputed(), 'crossingRecorded', 1)] },
        { kind: 'inferLap', waveId: 'wave-1' as WaveId, studentId: c.studentId('107'), elapsedMs: 242_000 },
      ),
    ).toEqual(['14:22', '10th'])
  })

  test('a finishing tap two minutes sooner is 12:22, below the 50th; a gun two minutes later says the same', () => {
    const sooner = { kind: 'shift' as const, entries: [entryOf(disputed(), 'crossingRecorded', 5)], ms: -120_000 }
    expect(supposing(sooner)).toEqual(['12:22', '40th'])
    expect(supposing({ kind: 'shift', entries: [entryOf(disputed(), 'waveStarted')], ms: 120_000 })).toEqual(['12:22', '40th'])
  })
})

test('an entry behind the seal is left out by its own name, and not the one of the day that has its number', () => {
  const day = disputed()
  day.enter([{ type: 'daySealed', openReviews: 0, acceptOpenReviews: null }])
  const value = { kind: 'value', value: { amount: 732_000, unit: 'milliseconds', resolution: 1000, method: 'hand' } }
  const corrected = {
    type: 'corrected',
    correctionId: 'x',
    studentId: 's107',
    attemptId: 'run-107',
    change: value,
    reason: c.words,
    countersigned: null,
  }
  day.enter([corrected as never])
  expect(run(fold(c.dayId, day.entries))).toEqual(['12:12', '50th'])
  const { stream, version } = day.entries.at(-1)!
  const supposed = whatIf(c.dayId, day.entries, [{ kind: 'leaveOut', entries: [{ stream, version }] }])
  expect(run(supposed.day)).toEqual(['14:22', '10th'])
  expect(supposed.supposed).toHaveLength(day.entries.length - 1)
})

test('a try that nobody put in would be the best; another version of a protocol would round otherwise', () => {
  const day = c.drive()
  c.opened([c.expected('116 M 25')])(day)
  c.all(c.ready('116'), c.tries('116', 'agility', 'a-1', c.seconds(1868)))(day)
  const says = (suppositions: Parameters<typeof whatIf>[2]) =>
    whatIf(c.dayId, day.entries, suppositions).moves.map(({ before, after }) => [before.says, after.says])
  const better = { kind: 'insertTry' as const, studentId: c.studentId('116'), stationId: 'agility' as never, value: c.seconds(1700) }
  expect(says([better])).toEqual([['18.7 s', '17.0 s']])
  const agility = c.demoStations.find(({ stationId }) => stationId === 'agility')!.protocol
  const down = { ...agility, version: 2, rounding: { ...(agility['rounding'] as object), rule: 'down' } }
  expect(says([{ kind: 'protocol', protocol: down as never }])).toEqual([['18.7 s', '18.6 s']])
})

test('a what-if is no entry: its event is in no schema, and it carries nothing a ledger chains', () => {
  const supposed = whatIf(c.dayId, disputed().entries, [])
  expect(supposed.imagined).toBe(true)
  expect(supposed).not.toHaveProperty('hash')
  expect(supposed).not.toHaveProperty('meta')
  expect(DayEvent.safeParse({ type: 'imagined', ...supposed }).success).toBe(false)
  expect(DayEvent.safeParse(supposed).success).toBe(false)
})

test('what was told late is not in what was known then, and is in what is known now', () => {
  const day = disputed()
  day.tell(
    'recordCrossing',
    c.bo,
    { observationId: 'late-tap' as never, waveId: 'wave-1' as WaveId, studentId: c.studentId('107'), line: 'lap' },
    { at: '11:00:00', occurredAt: c.clock('10:06:03') } as never,
  )
  const then = asKnown(c.dayId, day.entries, { by: 'recorded', at: c.clock('10:30') })
  const now = asCorrected(c.dayId, day.entries, c.clock('10:30'))
  const taps = (one: typeof then) => one.students.get(c.studentId('107'))?.attempts[0]?.taps.length
  expect(taps(then)).toBe(6)
  expect(taps(now)).toBe(7)
  const scrubber = new Scrubber(c.dayId, day.entries, 4)
  for (const { meta } of day.entries) {
    const at = happenedAt(meta)
    expect(recordBytes(scrubber.happenedBy(at))).toBe(recordBytes(asKnown(c.dayId, day.entries, { by: 'occurred', at })))
  }
})

test('instants whose bands overlap on two devices are named as not ordered', () => {
  const day = disputed()
  day.tell(
    'startAttempt',
    c.mira,
    {
      attemptId: 'a-1' as never,
      studentId: c.studentId('117'),
      stationId: 'agility' as never,
      official: true,
      load: null,
      equipmentIds: [],
      observerId: null,
      earlyBecause: null,
    },
    { at: '10:20:00', bandMs: 400 },
  )
  day.tell('raiseHold', c.rashid, { holdId: 'hold-1' as never, kind: 'heat', zoneId: 'track' as never }, { at: '10:20:00.3', bandMs: 200 })
  const last = day.entries.length - 1
  expect(notOrdered(day.entries, last)).toContain(last - 1)
  expect(notOrdered(day.entries, 2)).not.toContain(last)
})

describe('the same entries give the same records', () => {
  test('whole, in chunks, scrubbed to and fro, and through JSON', () => {
    const { entries, day } = disputed()
    const whole = recordBytes(day)
    expect(recordBytesOf(c.dayId, entries)).toBe(whole)
    const half = entries.slice(0, 9).reduce(evolve, emptyDay(c.dayId))
    expect(recordBytes(entries.slice(9).reduce(evolve, half))).toBe(whole)
    const scrubber = new Scrubber(c.dayId, entries, 4)
    for (const at of [entries.length, 3, 11, 0, 7, entries.length])
      expect(recordBytes(scrubber.at(at))).toBe(recordBytes(fold(c.dayId, entries.slice(0, at))))
    expect(recordBytesOf(c.dayId, JSON.parse(JSON.stringify(entries)))).toBe(whole)
  })

  test('two replays part at the entry where they differ, and nowhere when they are the same', () => {
    const { entries } = disputed()
    expect(parting(entries, entries)).toBeNull()
    expect(
      parting(
        entries,
        entries.filter((_, index) => index !== 5),
      )?.at,
    ).toBe(5)
    expect(differences(fold(c.dayId, entries), fold(c.dayId, entries))).toEqual([])
  })
})
