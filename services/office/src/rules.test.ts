import { tbmed507 } from '@musterbook/heat/published-tables'
import type { ClassId } from '@musterbook/vocabulary/ids'
import { EmergencyCard } from '@musterbook/vocabulary/emergency-card'
import { ComposeDay } from '@musterbook/vocabulary/office'
import type { PlacedStation, PlacedZone } from '@musterbook/vocabulary/office-events'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { desked, type Desked, granted, morning, ruleOf, settled, told } from './controls.ts'
import { demoEmergencyCard } from './demo-emergency-card.ts'

let desk: Desked
let asInes: () => ReturnType<typeof told>
const asTomas = () => told('tomas', ['supervisor'])
beforeEach(async () => {
  desk = await desked()
  ;({ asInes } = await settled(desk))
})
afterEach(() => desk.end())

type Kind = Parameters<typeof desk.office.proposeAdoption>[0]['kind']
const propose = (kind: Kind, id: string) => desk.office.proposeAdoption({ kind, id }, asInes())
const adopt = async (kind: Kind, id: string) => {
  const { proposalId } = granted(await propose(kind, id))
  granted(await desk.office.confirmAdoption({ proposalId }, asTomas()))
}
const offer = async (kind: Kind, id: string) => (await desk.office.rules()).find((each) => each.kind === kind && each.id === id)

describe('adoption', () => {
  test('nothing is in force until a second, different person agrees', async () => {
    expect((await desk.office.rules()).every(({ state }) => state === 'offered')).toBe(true)
    const { proposalId } = granted(await propose('heatPolicy', 'HP-1'))
    expect(await offer('heatPolicy', 'HP-1')).toMatchObject({ state: 'proposed', proposalId, adoptedBy: null })
    expect(ruleOf(await desk.office.confirmAdoption({ proposalId }, asInes()))).toBe('secondPersonSame')
    expect(ruleOf(await desk.office.confirmAdoption({ proposalId }, told(null, ['device'])))).toBe('personNeeded')
    granted(await desk.office.confirmAdoption({ proposalId }, asTomas()))
    expect(await offer('heatPolicy', 'HP-1')).toMatchObject({
      state: 'inForce',
      adoptedBy: 'tomas',
      adoptedOn: '2027-05-11',
      invented: true,
    })
    expect(ruleOf(await propose('heatPolicy', 'HP-1'))).toBe('alreadyInForce')
    expect(ruleOf(await desk.office.confirmAdoption({ proposalId }, asTomas()))).toBe('noSuchProposal')
  })

  test('a proposal is made once, and can be withdrawn; what is in force can be ended', async () => {
    const { proposalId } = granted(await propose('norms', 'FX-1'))
    expect(ruleOf(await propose('norms', 'FX-1'))).toBe('alreadyProposed')
    granted(await desk.office.withdrawProposal({ proposalId }, asInes()))
    expect((await offer('norms', 'FX-1'))?.state).toBe('offered')
    await adopt('norms', 'FX-1')
    granted(await desk.office.endAdoption({ kind: 'norms', id: 'FX-1' }, asInes()))
    expect((await offer('norms', 'FX-1'))?.state).toBe('offered')
    expect(ruleOf(await desk.office.endAdoption({ kind: 'norms', id: 'FX-1' }, asInes()))).toBe('notInForce')
    expect(ruleOf(await propose('norms', 'FX-9'))).toBe('noSuchOffer')
  })

  test('every offer says where it comes from, and whether it is invented', async () => {
    const offers = await desk.office.rules()
    expect(offers.filter(({ source, edition, name }) => !source || !edition || !name)).toEqual([])
    expect(offers.filter(({ invented }) => !invented).length).toBeGreaterThan(3)
    const keys = offers.map(({ kind, id }) => `${kind} ${id}`)
    expect(new Set(keys).size).toBe(keys.length)
  })

  test('a published heat table is adopted only with the hold rules that this site chose', async () => {
    expect(await propose('heatPolicy', tbmed507.id)).toMatchObject({ refused: { rule: 'notAdoptable' } })
    const rules = {
      population: 'unacclimatised' as const,
      readingsNeeded: true,
      raise: { tenths: 880, included: true },
      lift: { tenths: 880, included: false },
      dwellMinutes: 15,
      settledReadingsToLift: 1,
      readingAgeMinutes: 30,
      contactAgeMinutes: 5,
      derivedWetBulbMayLift: false,
      latched: false,
    }
    const nonsense = { ...rules, lift: { tenths: 900, included: true } }
    expect(await desk.office.proposeAdoption({ kind: 'heatPolicy', id: tbmed507.id, holdRules: nonsense }, asInes())).toMatchObject({
      refused: { rule: 'notAdoptable', params: { problems: 'one reading would both raise and lift' } },
    })
    const { proposalId } = granted(await desk.office.proposeAdoption({ kind: 'heatPolicy', id: tbmed507.id, holdRules: rules }, asInes()))
    granted(await desk.office.confirmAdoption({ proposalId }, asTomas()))
    expect(await offer('heatPolicy', tbmed507.id)).toMatchObject({ state: 'inForce', content: { raise: rules.raise, unit: tbmed507.unit } })
  })
})

describe('the emergency card', () => {
  const card = { ...demoEmergencyCard, doFirst: 'Call by radio.\nOne goes to the gate.' }
  const write = (content: object) => desk.office.proposeAdoption({ kind: 'emergencyCard', id: 'EC', content: { ...content } }, asInes())

  test('is the site’s own words, read whole by the second person; a changed one is another edition', async () => {
    expect(await desk.office.emergencyCard()).toBeNull()
    expect(ruleOf(await propose('emergencyCard', 'EC'))).toBe('noSuchOffer')
    const { proposalId } = granted(await write(card))
    expect(await offer('emergencyCard', 'EC')).toMatchObject({ state: 'proposed', edition: '1', content: card })
    granted(await desk.office.confirmAdoption({ proposalId }, asTomas()))
    expect(await desk.office.emergencyCard()).toMatchObject({ ...card, adoptedBy: 'tomas', adoptedOn: '2027-05-11' })
    expect(ruleOf(await write(card))).toBe('alreadyInForce')
    expect(ruleOf(await write({ ...card, hospital: 'Another' }))).toBe('notAdoptable')

    const second = granted(await write({ ...card, edition: '2', hospital: 'Another' }))
    expect(await desk.office.emergencyCard()).toMatchObject({ edition: '1' })
    granted(await desk.office.confirmAdoption({ proposalId: second.proposalId }, asTomas()))
    expect(await desk.office.emergencyCard()).toMatchObject({ edition: '2', hospital: 'Another' })
  })

  test.each([{ doFirst: 'x'.repeat(801) }, { call: ' ' }, { hospital: 'a\u0000b' }, { writtenOn: 'today' }, { advice: 'rest' }])(
    'has bounds: %o is turned away',
    async (bent) => {
      expect(EmergencyCard.safeParse(card).success).toBe(true)
      expect(ruleOf(await write({ ...card, ...bent }))).toBe('notAdoptable')
    },
  )
})

describe('composing a day', () => {
  const zone = (more: object = {}) =>
    ({
      zoneId: 'track',
      name: 'Track',
      outdoor: true,
      track: { lapMm: 400_000, startOffsetMm: 14_016 },
      shelter: null,
      coolingPoint: null,
      ...more,
    }) as PlacedZone
  const run = (more: object = {}) =>
    ({ stationId: 'run', name: 'Run', zoneId: 'track', kind: 'run', protocolId: 'run', ...more }) as PlacedStation
  const compose = (more: object = {}) =>
    desk.office.composeDay(ComposeDay.parse({ date: '2027-05-11', title: 'Entry test', rehearsal: false, classIds: ['lark-7'], ...more }))
  const missing = async (more: object = {}) => {
    const composed = await compose(more)
    return 'missing' in composed ? composed.missing : []
  }

  const ready = async () => {
    granted(await desk.office.placeZone(zone(), asInes()))
    granted(await desk.office.placeStation(run(), asInes()))
    for (const [kind, id] of [
      ['protocol', 'run'],
      ['heatPolicy', 'HP-1'],
      ['dayPolicy', 'DP-1'],
    ] as const)
      await adopt(kind, id)
    const classId = granted(await desk.office.nameClass({ name: 'Lark-7' }, asInes())).classId
    const student = {
      classId,
      code: '1',
      familyName: 'Dune',
      givenName: 'Marek',
      birthDate: '2001-07-19',
      normSex: 'M' as const,
      language: 'en' as const,
    }
    granted(await desk.office.enrolStudent(student, asInes()))
  }

  test('says everything that is missing, at once', async () => {
    expect(await missing()).toEqual([
      'No rules of the day are in force: two people adopt them first.',
      'The venue has no stations yet.',
      'No heat policy is in force: two people adopt one first.',
      'There is no class lark-7.',
      'Class lark-7 has no students.',
    ])
  })

  test('pins the rules as they stand: a later change never reaches it', async () => {
    await ready()
    const before = await compose()
    if ('missing' in before) throw new Error(before.missing.join(' '))
    expect(before.openDay.rules.stations[0]?.protocol).toMatchObject({
      details: { track: { lapMm: 400_000, laps: 6, startOffsetMm: 14_016 } },
    })
    expect(before.openDay.rules).toMatchObject({ norms: [], standard: null, rulesVersion: 6 })
    await adopt('norms', 'FX-1')
    const after = await compose()
    if ('missing' in after) throw new Error(after.missing.join(' '))
    expect(after.openDay.rules.norms[0]).toMatchObject({
      edition: 'FX-1',
      adoption: { adopters: [expect.anything(), 'tomas'], adoptedOn: '2027-05-11' },
    })
    expect(after.openDay.rules.rulesVersion).toBe(8)
    expect('emergencyCard' in after.openDay.rules).toBe(false)
    const { proposalId } = granted(
      await desk.office.proposeAdoption({ kind: 'emergencyCard', id: 'EC', content: { ...demoEmergencyCard } }, asInes()),
    )
    granted(await desk.office.confirmAdoption({ proposalId }, asTomas()))
    const carded = await compose()
    expect('openDay' in carded && carded.openDay.rules.emergencyCard).toEqual(await desk.office.emergencyCard())
    expect(before.openDay.rules.norms).toEqual([])
  })

  test('six laps of 400 m from the line are 14.016 m too short, and no day opens on them', async () => {
    await ready()
    granted(await desk.office.placeZone(zone({ track: { lapMm: 400_000, startOffsetMm: 0 } }), asInes()))
    expect(await missing()).toEqual(['Run: 6 laps of this track are 14.016 m too short; the start offset should be 14.016 m.'])
    granted(await desk.office.placeZone(zone({ track: null }), asInes()))
    expect(await missing()).toEqual(['Run: the track of Track is not measured.'])
  })

  test('a station without its protocol in force, of another kind, or with an overdue instrument opens no day', async () => {
    await ready()
    granted(await desk.office.placeStation(run({ protocolId: 'agility' }), asInes()))
    expect(await missing()).toEqual(['Run: protocol agility is not in force: two people adopt it first.'])
    await adopt('protocol', 'agility')
    expect(await missing()).toEqual(['Run: protocol agility is for a timed station, not run.'])
    granted(await desk.office.placeStation(run(), asInes()))
    const watch = {
      equipmentId: 'T-1',
      name: 'Stopwatch T-1',
      kind: 'stopwatch',
      stationId: 'run',
      tolerance: null,
      dueOn: '2027-05-10',
      footLineMm: null,
    }
    granted(await desk.office.registerEquipment(watch as never, asInes()))
    expect(await missing()).toEqual(['Run: the calibration of Stopwatch T-1 ended 2027-05-10.'])
    granted(await desk.office.changeEquipment({ ...watch, dueOn: '2027-05-11' } as never, asInes()))
    const composed = await compose()
    expect('openDay' in composed && composed.openDay.rules.stations[0]?.equipmentIds).toEqual(['T-1'])
  })

  test('a station out of doors is so whatever its protocol was written for', async () => {
    await ready()
    await adopt('protocol', 'agility')
    granted(await desk.office.placeStation(run({ stationId: 'agility', name: 'Agility', kind: 'timed', protocolId: 'agility' }), asInes()))
    const composed = await compose({ stationIds: ['agility'] })
    expect('openDay' in composed && composed.openDay.rules.stations.map(({ protocol }) => protocol.outdoor)).toEqual([true])
  })

  test('two heat policies: one is chosen; a student too young on that date is named by code', async () => {
    await ready()
    expect(await missing({ date: '2010-01-01' })).toEqual([
      'The student with code 1 would be 8 years old on 2010-01-01: correct the birth date.',
    ])
    expect(await missing({ heatPolicyId: 'HP-2' })).toEqual(['Heat policy HP-2 is not in force.'])
    expect(await missing({ classIds: ['lark-7', 'wren-2' as ClassId] })).toEqual([
      'There is no class wren-2.',
      'Class wren-2 has no students.',
    ])
  })

  test('a retest comes with its entitlement: until its last day, to its stations, and not twice', async () => {
    await ready()
    const [student] = await desk.office.studentsOfClass('lark-7' as ClassId)
    const grant = { type: 'retestGranted', entitlementId: 'e-1', studentId: student?.studentId, stationIds: ['run'], until: '2027-05-25' }
    const events = [{ ...grant, because: 'hold', reason: null, attemptId: 'a-1' }]
    const { envelope } = told(null, [])
    const meta = { ...envelope, command: 'disposeHold', bodyDigest: '0'.repeat(64), personId: null, deviceId: 'device-1' }
    await desk.ledger.append('day/hill-2027-05-11', 0, { meta, recordedAt: morning, events })

    const retests = [{ dayId: 'hill-2027-05-11', entitlementId: 'e-1' }]
    const composed = await compose({ date: '2027-05-25', classIds: [], retests })
    expect('openDay' in composed && composed.openDay.expected).toMatchObject([
      {
        studentId: student?.studentId,
        retest: { entitlementId: 'e-1', dayId: 'hill-2027-05-11', stationIds: ['run'], until: '2027-05-25' },
      },
    ])
    expect(await missing({ date: '2027-05-26', classIds: [], retests })).toEqual([
      'The retest of the student with code 1 ended 2027-05-25.',
    ])
    expect(await missing({ retests })).toEqual(['The student with code 1 is expected twice: with a class, or on one retest.'])
    expect(await missing({ classIds: [], retests: [{ dayId: 'hill-2027-05-11', entitlementId: 'e-2' }] })).toEqual([
      'Day hill-2027-05-11 granted no retest e-2.',
    ])
    expect(await missing({ classIds: [] })).toEqual(['Nobody is expected: choose a class, or a retest.'])
  })

  test('a retest is scored by the protocol and norms of the day that granted it, whatever was adopted since', async () => {
    await ready()
    await adopt('norms', 'FX-1')
    const then = await compose()
    if ('missing' in then) throw new Error(then.missing.join(' '))
    const { facts, rules } = then.openDay
    const [student] = await desk.office.studentsOfClass('lark-7' as ClassId)
    const grant = { type: 'retestGranted', entitlementId: 'e-1', studentId: student?.studentId, stationIds: ['run'], until: '2027-05-25' }
    const events = [
      { type: 'dayOpened', facts, rules },
      { ...grant, because: 'hold', reason: null, attemptId: 'a-1' },
    ]
    const meta = { ...told(null, []).envelope, command: 'openDay', bodyDigest: '0'.repeat(64), personId: null, deviceId: 'device-1' }
    await desk.ledger.append(`day/${facts.dayId}`, 0, { meta, recordedAt: morning, events })

    granted(await desk.office.endAdoption({ kind: 'norms', id: 'FX-1' }, asInes()))
    await adopt('norms', 'run-cooper-2007')
    const retests = [{ dayId: facts.dayId, entitlementId: 'e-1' }]
    const composed = await compose({ date: '2027-05-20', classIds: [], retests })
    if ('missing' in composed) throw new Error(composed.missing.join(' '))
    expect(composed.openDay.rules.norms).toEqual(rules.norms)
    expect(composed.openDay.rules.stations).toEqual(rules.stations)
    expect(await missing({ date: '2027-05-20', classIds: [], retests, rehearsal: !facts.rehearsal })).toContain(
      facts.rehearsal
        ? 'The retest of the student with code 1 was granted at a rehearsal: a rehearsal alone takes it up.'
        : 'The retest of the student with code 1 counts: a rehearsal does not take it up.',
    )
    const today = await compose({ date: '2027-05-20' })
    expect('openDay' in today && today.openDay.rules.norms.map(({ id }) => id)).toEqual(['run-cooper-2007'])
    expect(await missing({ date: '2027-05-20', retests })).toContain(
      `The rules have changed since ${facts.dayId}, by which its retests are scored: open a day of retests alone.`,
    )
  })

  test('two norm tables for one test are never pinned together', async () => {
    await ready()
    await adopt('norms', 'FX-1')
    await adopt('norms', 'run-cooper-2007')
    expect(await missing()).toEqual(['Two norm tables for run are in force, FX-1/run and run-cooper-2007: end one.'])
  })
})

describe('venue and equipment', () => {
  test('a station stands in a zone that is there, and a zone with stations stays', async () => {
    const station = { stationId: 'run', name: 'Run', zoneId: 'track', kind: 'run', protocolId: null } as PlacedStation
    expect(ruleOf(await desk.office.placeStation(station, asInes()))).toBe('noSuchZone')
    const zone = { zoneId: 'track', name: 'Track', outdoor: true, track: null, shelter: null, coolingPoint: null } as unknown as PlacedZone
    granted(await desk.office.placeZone(zone, asInes()))
    granted(await desk.office.placeStation(station, asInes()))
    expect(ruleOf(await desk.office.removeZone({ zoneId: zone.zoneId }, asInes()))).toBe('zoneInUse')
    granted(await desk.office.removeStation({ stationId: station.stationId }, asInes()))
    granted(await desk.office.removeZone({ zoneId: zone.zoneId }, asInes()))
    expect(ruleOf(await desk.office.removeStation({ stationId: station.stationId }, asInes()))).toBe('noSuchStation')
    expect(await desk.office.venue()).toEqual({ zones: [], stations: [] })
  })

  test('equipment is registered once, changed and retired', async () => {
    const scale = {
      equipmentId: 'S-2',
      name: 'Scale S-2',
      kind: 'scale',
      stationId: null,
      tolerance: { amount: 100, unit: 'grams' },
      dueOn: null,
      footLineMm: null,
    } as never
    granted(await desk.office.registerEquipment(scale, asInes()))
    expect(ruleOf(await desk.office.registerEquipment(scale, asInes()))).toBe('equipmentExists')
    granted(await desk.office.retireEquipment({ equipmentId: 'S-2' as never }, asInes()))
    expect(ruleOf(await desk.office.changeEquipment(scale, asInes()))).toBe('noSuchEquipment')
    expect(await desk.office.equipment()).toEqual([])
  })
})
