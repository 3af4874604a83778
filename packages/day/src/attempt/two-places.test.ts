import { expect, test } from 'vitest'
import {
  at,
  crosses,
  demoRules,
  expected,
  gun,
  mira,
  opened,
  reach,
  reads,
  ready,
  records,
  starts,
  tells,
  tomas,
  words,
} from '../controls.ts'
import { given } from '../given.ts'
import { inboxView } from '../views/inbox.ts'
import { stationView } from '../views/station.ts'

/* E31: a bib swapped or misread. The gym and the track are two zones; this site asks within twenty seconds. */
const asks = demoRules({ twoPlacesWithinMs: 20_000 })
const present = (rules = asks) => given(opened([expected('112'), expected('113')], rules), ready('112', '113'), at('10:00'), reads(24))
const twoPlaces = { type: 'reviewOpened', because: 'twoPlaces' } as const
const reachRead = (time: string) => [
  starts('112', 'sitAndReach', 'r1', {}, { at: time }),
  records('112', 'sitAndReach', 'r1', reach(335), {}, { at: time }),
]

test('a gun a few seconds after the gym saw the same bib is fired all the same, and that runner’s run waits', () => {
  present()
    .when(...reachRead('10:00:30'), gun('w1', ['112', '113'], { at: '10:00:40' }))
    .then({ events: ['waveStarted', { type: 'attemptStarted' }, twoPlaces, { type: 'attemptStarted', reviewId: null }] })
    .and((day) => expect(inboxView(day).items).toMatchObject([{ because: 'twoPlaces', bib: '112', stationId: 'run' }]))
})

test('who walked over in as long as the site’s figure is asked nothing; nor is anybody where the site has none', () => {
  const started = { events: ['waveStarted', 'attemptStarted'] as const }
  present()
    .when(...reachRead('10:00:30'), gun('w1', ['112'], { at: '10:00:50' }))
    .then({ events: [...started.events] })
  present(demoRules())
    .when(...reachRead('10:00:30'), gun('w1', ['112'], { at: '10:00:31' }))
    .then({ events: [...started.events] })
})

test('a crossing of a runner whom the gym had under way at that moment is kept, and asked about once', () => {
  const outOfContact = { decidedOnDevice: true, at: '10:03:00' }
  const seen = present()
    .when(gun('w1', ['112'], { at: '10:02' }), starts('112', 'sitAndReach', 'r1', {}, outOfContact))
    .then({ events: [{ type: 'attemptStarted' }, { type: 'reviewOpened', because: 'otherUnderWay' }] })
    .when(crosses('w1', '112', '2:00.0'))
    .then({
      events: [
        { type: 'crossingRecorded', ignored: null },
        { ...twoPlaces, about: { studentId: 's112', stationId: 'run', attemptId: 'w1-112', waveId: 'w1' } as never },
      ],
    })
    .when(crosses('w1', '112', '4:00.0'))
    .then({ events: [{ type: 'crossingRecorded', ignored: null }] })
  expect(seen.day.waves.size).toBe(1)
})

test('the question is a person’s: ruled as right, the try counts', () => {
  const asked = present().when(...reachRead('10:00:30'), gun('w1', ['112'], { at: '10:00:40' }))
  const reviewId = inboxView(asked.day).items[0]?.itemId
  asked
    .when(tells('rule', tomas, { reviewId, ruling: 'counts', reason: words }))
    .and((day) => expect(day.students.get('s112' as never)!.attempts.at(-1)).toMatchObject({ ruling: 'counts', status: 'underWay' }))
})

test('what was moved to the right student no longer places the bib', () => {
  present()
    .when(
      ...reachRead('10:00:30'),
      tells('correct', mira, {
        correctionId: 'c1',
        studentId: 's112',
        attemptId: 'r1',
        change: { kind: 'reassign', toStudentId: 's113', newAttemptId: 'r1-of-113' },
        reason: words,
        seenRevision: 1,
      }),
      gun('w1', ['112'], { at: '10:00:40' }),
    )
    .then({ events: ['waveStarted', 'attemptStarted'] })
})

test('a station knows where a bib was seen last and how long it is worth a question', () => {
  present()
    .when(gun('w1', ['112'], { at: '10:02' }), crosses('w1', '112', '2:00.0'))
    .and((day) => {
      const seen = stationView(day, 'sitAndReach')!.students.find(({ bib }) => bib === '112')!.elsewhere!
      expect(seen).toMatchObject({ station: 'Run, one and a half miles', askUntil: seen.at + 20_000 })
      expect(stationView(day, 'run')!.students.find(({ bib }) => bib === '112')).not.toHaveProperty('elsewhere')
    })
})
