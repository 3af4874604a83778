import { createHash } from 'node:crypto'
import type { InboxView } from '@musterbook/day/views/inbox'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { RecordView } from '@musterbook/day/views/record'
import type { StationView } from '@musterbook/day/views/station'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { onlyCutOff, smallDisk } from './offline-hands.ts'
import { reads, runnerOf } from './run-hands.ts'
import { touchAt, withOwnClock } from './page-clock.ts'
import { handsOn, lineUp, nothingBroke, staffAndBrief } from './station-hands.ts'

let journey: Journey
const open: Device[] = []
beforeAll(async () => {
  journey = await openJourney()
  await staffAndBrief(journey)
})
afterEach(async () => {
  for (const device of open.splice(0)) {
    nothingBroke(device.complaints)
    await device.context.close()
  }
})
afterAll(() => journey?.close())

type Who = 'petra' | 'mira' | 'juno' | 'colm' | 'bo' | 'tomas'

async function openDevice(device: string, person: Who, path: string) {
  const made = await journey.openScreen(device, person, path)
  open.push(made)
  return made
}
async function station(device: string, person: Who, stationId: string) {
  const hands = handsOn((await openDevice(device, person, `/station?station=${stationId}`)).page)
  await hands.sees('At this station')
  return hands
}
const recordOf = (bib: string) => journey.view<RecordView>('record', journey.studentId(bib))
const resultOf = async (bib: string, stationId: string) => {
  const found = (await recordOf(bib)).stations.find((one) => one.stationId === stationId)
  if (!found) throw new Error(`no station ${stationId}`)
  return found
}

test('a clean day indoors: bench 72 % and 70th, agility 18.7 and 60th, reach 33.5 and 50th, on the screen and in the record', async () => {
  await journey.bring(['108'], 'warmedUp', 62_400)
  await lineUp(journey, 'bench', '108')
  const bench = await station('Bench 1', 'colm', 'bench')
  await bench.press('Call up #108')
  await bench.sees('Suggested: 30.0 kg')
  for (const [more, load] of [
    [['More 10.0 kg', 'More 2.5 kg'], '42.5'],
    [[], '45.0'],
  ] as const) {
    for (const step of more) await bench.press(step)
    await bench.press(`${load} kg is on the bar: start`)
    await bench.press('Good lift')
    await bench.saved(`${load} kg, Good lift`)
    await journey.clock.forward(2 * 60_000)
  }
  await bench.sees('Provisional: 72 %')
  await bench.sees(/70th within group W20–29, table FX-1/)
  expect(await axe(bench.page)).toEqual([])

  await lineUp(journey, 'agility', '108')
  const agility = await station('Agility', 'mira', 'agility')
  await agility.press('Call up #108')
  for (const [number, time] of [
    [1, '18.93'],
    [2, '18.61'],
  ] as const) {
    await agility.press(`Start try ${number} of 2`)
    await agility.type(time)
    await agility.press('Save')
    await agility.saved(`${time} s`)
    await journey.clock.forward(3 * 60_000)
  }
  await agility.sees('Provisional: 18.7 s')
  await agility.sees(/60th within group W20–29, table FX-1/)

  await lineUp(journey, 'reach', '108')
  const reach = await station('Reach', 'juno', 'reach')
  await reach.press('Call up #108')
  for (const [number, length] of [
    [1, '31.0'],
    [2, '33.5'],
    [3, '33.0'],
  ] as const) {
    await reach.press(`Start try ${number} of 3`)
    await reach.type(length)
    await reach.press('Save')
    await reach.saved(`${length} cm`)
  }
  await reach.sees('Provisional: 33.5 cm')
  await reach.sees(/50th within group W20–29, table FX-1/)

  // The run has its own screen (run.test.ts): here it is told, for the whole of her day.
  await journey.clock.forward(5 * 60_000)
  await reads(journey, 240)
  const runner = { waveId: 'w-108', studentId: journey.studentId('108') }
  const gunAt = journey.clock.now()
  const runners = [{ studentId: runner.studentId, attemptId: 'run-108' }]
  await journey.tell('Track 2', 'bo', 'startWave', { waveId: runner.waveId, stationId: 'run', runners, official: true }, { at: gunAt })
  await journey.clock.forward(14 * 60_000)
  for (const [lap, ms] of [130_000, 262_000, 393_000, 524_000, 656_000, 785_400].entries()) {
    const crossing = { observationId: `lap-${lap + 1}`, ...runner, line: lap === 5 ? 'finish' : 'lap' }
    await journey.tell('Track 2', 'bo', 'recordCrossing', crossing, { at: gunAt + ms })
  }
  await expect.poll(async () => (await resultOf('108', 'run')).result.amount).toBe(786)
  const record = await recordOf('108')
  const results = Object.fromEntries(
    record.stations.map(({ stationId, result }) => [stationId, [result.amount, result.placing, result.state]]),
  )
  expect(record.reviews).toEqual([])
  expect(results).toMatchObject({
    bench: [72, '70th', 'provisional'],
    agility: [187, '60th', 'provisional'],
    reach: [335, '50th', 'provisional'],
    run: [786, '60th', 'provisional'],
  })
  expect(record.reviews).toEqual([])
  // Her cool-down is due, and nothing is to be decided.
  expect((await journey.view<InboxView>('inbox')).items.map(({ because }) => because)).toEqual(['coolDownDue'])
  const { page } = await openDevice('Safety', 'tomas', '/supervisor')
  const board = page.getByRole('row').filter({ hasText: 'Sunniva Pell' })
  await board.waitFor()
  // Rows of a long table are drawn once they are seen: before that a row holds the names alone.
  await board.getByText('18.7 s').waitFor()
  for (const says of ['18.7 s', '33.5 cm', '72 %', '13:06']) expect(await board.innerText()).toContain(says)
  await page.goto(`/sheets/days/${journey.open.dayId}/students/${journey.studentId('108')}`)
  const sheet = await page.locator('main').innerText()
  for (const { result } of record.stations.filter(({ result }) => result.says)) {
    expect(result).toMatchObject({ table: expect.stringContaining('FX-1') as string })
    for (const says of [result.says, result.placing, result.table]) expect(sheet).toContain(says)
    for (const instrument of result.equipmentIds) expect(sheet).toContain(instrument)
  }
})

test('medical skipped: refused in place with who resolves it, and a clearance given on another tablet shows within two seconds', async () => {
  await journey.bring(['107'], 'bib')
  const mira = await station('Agility', 'mira', 'agility')
  await mira.press('Join by bib')
  await mira.type('107')
  await mira.press('Join the line')
  await mira.sees('#107 joined the line')
  await mira.press('Call up #107')
  await mira.sees('No clearance is recorded for #107.')
  await mira.sees('Send to medical.')
  await mira.sees('Resolved by: Medical screener')
  expect(await axe(mira.page)).toEqual([])
  expect((await recordOf('107')).refusals).toMatchObject([{ act: 'callUp', rule: 'notCleared' }])
  const before = await mira.page.locator('main').innerText()

  const gate = mira.page.locator('.gate', { hasText: 'Clearance' })
  const petra = handsOn((await openDevice('Medical 1', 'petra', '/medical')).page)
  await petra.page.getByLabel('Bib or name').fill('107')
  await petra.press(/^Open .*107/)
  await petra.press(/^Cleared limits: none/)
  await gate.and(mira.page.locator('[data-state="met"]')).waitFor({ timeout: 2_000 })
  const after = await mira.page.locator('main').innerText()
  for (const shown of [before, after]) expect(shown).not.toMatch(/condition|medication|diagnos|because of/i)

  // Taken out of the line and started as if called: the start itself says no as well, and is written down.
  await mira.press('Take out of the line')
  await mira.press('Start try 1 of 2')
  await mira.sees('The warm-up is not confirmed.')
  expect((await recordOf('107')).refusals.at(-1)).toMatchObject({ act: 'startAttempt', rule: 'warmUpMissing' })
})

test('a slipped digit is asked about: typed again it leaves one reading and no correction, kept it is flagged', async () => {
  await journey.bring(['112'])
  await lineUp(journey, 'reach', '112')
  const juno = await station('Reach', 'juno', 'reach')
  await juno.choose('Tendai')
  await juno.press('Call up #112')
  await juno.press('Start try 1 of 3')
  await juno.type('61.0')
  await juno.press('Save')
  await juno.sees('61.0 cm is outside the usual range; keep or retype?')
  await juno.sees('it would be 16.0 cm')
  expect(await axe(juno.page)).toEqual([])
  await juno.press('Type it again')
  await juno.type('16.0')
  await juno.press('Save')
  await juno.saved('16.0 cm')
  expect((await resultOf('112', 'reach')).attempts).toMatchObject([
    { observations: [{ value: { amount: 160, unit: 'millimetres' }, keptUnusual: false }], corrections: [] },
  ])

  await juno.press('Start try 2 of 3')
  await juno.type('61.0')
  await juno.press('Save')
  await juno.press('Keep 61.0 cm')
  await juno.saved('61.0 cm')
  await juno.sees('Unusual, kept')
  expect((await resultOf('112', 'reach')).attempts[1]).toMatchObject({
    observations: [{ value: { amount: 610 }, keptUnusual: true }],
    corrections: [],
  })
  // Both times the question and its answer are part of the record, in the words that stood on the screen.
  const heard = await (await journey.client('Office desk', 'ines')).get(`/api/days/${journey.open.dayId}/entries?after=0`)
  const told = (heard.body['entries'] as { events: Record<string, unknown>[] }[]).flatMap(({ events }) => events)
  const answers = told.filter((event) => event['type'] === 'promptAnswered' && event['studentId'] === journey.studentId('112'))
  expect(answers).toMatchObject([
    { prompt: 'unusualValue', shown: expect.stringContaining('61.0 cm is outside the usual range'), answer: 'retype' },
    { prompt: 'unusualValue', shown: expect.stringContaining('61.0 cm is outside the usual range'), answer: 'keep' },
  ])
})

test('two tablets time one try 0.8 s apart: one try used, the readings differ, the slower counts once somebody has seen it', async () => {
  await journey.bring(['105'])
  await lineUp(journey, 'agility', '105')
  const timing = async (device: string, person: Who) => {
    const { page } = await openDevice(device, person, '/icons/icon.svg')
    await withOwnClock(page, '/station?station=agility')
    const hands = handsOn(page)
    await hands.choose('Kofi')
    return hands
  }
  const mira = await timing('Agility', 'mira')
  const bo = await timing('Track 2', 'bo')
  await mira.press('Call up #105')
  await mira.press('Start try 1 of 2')
  await bo.page.locator('.pad-keys').waitFor()
  await bo.type('17.5')
  await mira.type('17.3')
  const sent = mira.page.waitForRequest((one) => one.method() === 'POST' && one.url().endsWith('/results'))
  const stopped = journey.clock.now()
  await touchAt(mira.page, stopped, () => mira.press('Save'))
  await mira.saved('17.30 s')
  await bo.sees('Another tablet has recorded this try.')
  await touchAt(bo.page, stopped + 800, () => bo.press('Save'))

  for (const hands of [mira, bo]) {
    await hands.sees('Two readings of try 1 differ: 17.30 s and 17.50 s.')
    await hands.sees('1 of 2 tries used')
  }
  expect(await axe(mira.page)).toEqual([])
  expect(await resultOf('105', 'agility')).toMatchObject({ result: { state: 'underReview', amount: 175 } })
  await mira.press('I have seen it')
  for (const hands of [mira, bo]) {
    await hands.sees('Provisional: 17.5 s')
    await hands.page.getByText('Two readings of try 1 differ').waitFor({ state: 'detached' })
    await hands.sees('Start try 2 of 2')
  }
  const { attempts } = await resultOf('105', 'agility')
  expect(attempts).toMatchObject([{ number: 1, observations: [{ at: stopped }, { at: stopped + 800 }] }])
  // The same message once more changes nothing.
  const message = await sent
  const again = await mira.page.request.post(message.url(), { data: message.postDataJSON() as object })
  expect([again.status(), ((await again.json()) as { toldTwice: boolean }).toldTwice]).toEqual([201, true])
  expect((await resultOf('105', 'agility')).attempts).toEqual(attempts)

  // Two equal readings of the second try close by themselves.
  await journey.clock.forward(3 * 60_000)
  await mira.press('Start try 2 of 2')
  for (const hands of [bo, mira]) await hands.type('17.4')
  await mira.press('Save')
  await mira.saved('17.40 s')
  await bo.sees('Another tablet has recorded this try.')
  await bo.press('Save')
  await mira.sees('Two readings agree')
  expect(await resultOf('105', 'agility')).toMatchObject({ result: { state: 'provisional', amount: 174 } })

  // A second reading more than a minute after the first is nobody's pair until a person says so.
  await journey.bring(['106'])
  await lineUp(journey, 'agility', '106')
  for (const hands of [mira, bo]) await hands.choose('106')
  await mira.press('Call up #106')
  await mira.press('Start try 1 of 2')
  for (const hands of [bo, mira]) await hands.type('17.4')
  await mira.press('Save')
  await mira.saved('17.40 s')
  await journey.clock.forward(61_000)
  await bo.press('Save')
  const asked = async () => (await journey.view<InboxView>('inbox')).items.filter(({ because }) => because === 'farApart')
  await expect.poll(async () => (await asked()).length).toBe(1)
})

test('the wrong student, and two editors: a linked pair with its reason, the try given back, the later save refused', async () => {
  await journey.bring(['101', '102'])
  await lineUp(journey, 'reach', '101', '102')
  const juno = await station('Reach', 'juno', 'reach')
  await juno.choose('Ada Marsh')
  await juno.press('Call up #101')
  await juno.press('Start try 1 of 3')
  await juno.sees('Similar name today')
  await juno.type('38.0')
  await juno.press('Save')
  await juno.saved('38.0 cm')
  await journey.clock.forward(4 * 60_000)

  // Tomas opens the same record meanwhile.
  const tomas = await station('Safety', 'tomas', 'reach')
  await tomas.choose('Ada Marsh')
  await tomas.press('Mend Try 1')
  await tomas.page.getByText('Does not count').click()
  await tomas.page.getByLabel('Reason').fill('Judged void afterwards')

  await juno.press('Mend Try 1')
  await juno.page.getByLabel('Bib of the right student').fill('102')
  await juno.sees('Adam Marsh')
  await juno.page.getByLabel('Reason').fill('Saved on Ada, it was Adam')
  expect(await axe(juno.page)).toEqual([])
  await juno.press('Move it to #102')
  await juno.sees('Moved to another student')
  await juno.sees('0 of 3 tries used')

  await tomas.press('Save the correction')
  await tomas.sees('This was changed since you opened it.')
  await tomas.sees('Review the new version.')

  await juno.choose('Adam Marsh')
  await juno.sees('Provisional: 38.0 cm')
  await juno.sees('1 of 3 tries used')
  const [ada, adam] = [await resultOf('101', 'reach'), await resultOf('102', 'reach')]
  expect(ada).toMatchObject({ result: { amount: null }, attempts: [{ status: 'reassigned', corrections: [{ kind: 'reassign' }] }] })
  expect(adam).toMatchObject({ result: { amount: 380 }, attempts: [{ number: 1, corrections: [{ kind: 'reassign' }] }] })
  expect(ada.attempts[0]?.corrections[0]?.correctionId).toBe(adam.attempts[0]?.corrections[0]?.correctionId)
  for (const [name, says] of [
    ['Adam Marsh', /38\.0 cm/],
    ['Ada Marsh', /Moved to another student/],
  ] as const) {
    await juno.choose(name)
    await juno.page.locator('.try').filter({ hasText: says }).waitFor()
  }
})

test('practice stays practice, a third try of two is refused, and one that was run all the same is kept and not counted', async () => {
  await journey.bring(['116'])
  const mira = await station('Agility', 'mira', 'agility')
  await mira.choose('Noor')
  await mira.page.getByText('Practice', { exact: true }).click()
  await mira.press('Start practice')
  await mira.type('16.9')
  await mira.press('Save')
  await mira.saved('16.90 s')
  await mira.sees('0 of 2 tries used')
  await mira.press('Mend Practice')
  await mira.page.getByText('Practice or official').click()
  await mira.page.getByLabel('Reason').fill('It was a good one')
  await mira.press('Save the correction')
  await mira.sees('The kind of try is fixed before it starts.')
  await mira.sees('A supervisor’s correction only.')
  await mira.press('Close')

  for (const [number, time] of [
    [1, '18.2'],
    [2, '18.0'],
  ] as const) {
    await journey.clock.forward(3 * 60_000 + 1_000)
    await mira.page.getByText('Official', { exact: true }).click()
    await mira.press(`Start try ${number} of 2`)
    await mira.type(time)
    await mira.press('Save')
    await mira.saved(`${time}0 s`)
  }
  await journey.clock.forward(3 * 60_000 + 1_000)
  await mira.press('Start a further try')
  await mira.sees('2 of 2 tries are used.')
  await mira.press(/^It has happened already/)
  await mira.type('17.1')
  await mira.press('Save')
  await mira.sees('Extra, not counted')
  await mira.sees('Under review: 18.0 s')
  const { attempts, result } = await resultOf('116', 'agility')
  expect(result.amount).toBe(180)
  expect(attempts.map(({ official, extra }) => [official, extra])).toEqual([
    [false, false],
    [true, false],
    [true, false],
    [true, true],
  ])
})

test('a fault uses the try, nobody’s fault does not, and what the student did not hear waits for a supervisor', async () => {
  await journey.bring(['117'])
  await lineUp(journey, 'agility', '117')
  const mira = await station('Agility', 'mira', 'agility')
  await mira.choose('Callum')
  await mira.press('Call up #117')
  await mira.press('Start try 1 of 2')
  await mira.press('Fault or no result')
  expect(await axe(mira.page)).toEqual([])
  await mira.press('Slipped on the surface')
  await mira.saved('Slipped on the surface')
  await mira.sees('0 of 2 tries used')
  await journey.clock.forward(3 * 60_000 + 1_000)
  await mira.press('Start try 1 of 2')
  await mira.press('Fault or no result')
  await mira.press('Marker knocked over')
  await mira.saved('Marker knocked over')
  await mira.sees('1 of 2 tries used')
  await journey.clock.forward(3 * 60_000 + 1_000)
  await mira.press('Start try 2 of 2')
  await mira.type('18.4')
  await mira.press('Save')
  await mira.saved('18.40 s')
  await mira.press('Not what I heard')
  await mira.sees('Not what the student heard. It waits for the supervisor.')
  const asked = async () => (await journey.view<InboxView>('inbox')).items.map((item) => item.because)
  await expect.poll(asked).toContain('readBackDisputed')
  expect(await resultOf('117', 'agility')).toMatchObject({
    attempts: [{}, { observations: [{ outcome: 'foul', fault: 'markerDown' }] }, {}],
  })
})

test('skinfolds: read in rotation, a third where the rule asks, and percent fat only as derived after saving', async () => {
  await journey.bring(['118'], 'cleared')
  await lineUp(journey, 'skinfold', '118')
  const juno = await station('Scale and skinfolds', 'juno', 'skinfold')
  await juno.choose('Mei')
  await juno.press('Call up #118')
  await juno.press('Start try 1 of 1')
  const readings = [
    ['Triceps, reading 1', '12.5'],
    ['Above the hip, reading 1', '18'],
    ['Thigh, reading 1', '20.5'],
    ['Triceps, reading 2', '13'],
    ['Above the hip, reading 2', '24'],
    ['Thigh, reading 2', '20'],
    ['Above the hip, reading 3', '18.5'],
  ] as const
  for (const [label, value] of readings) {
    await juno.page.getByRole('group', { name: label }).waitFor()
    expect(await juno.page.locator('main').innerText()).not.toMatch(/percent fat/)
    await juno.type(value)
    await juno.press('Save')
  }
  await juno.sees('Every site is read')
  expect(await axe(juno.page)).toEqual([])
  await juno.press('Save all readings')
  await juno.saved(/^\d+\.\d percent fat, derived$/)
  const { attempts } = await resultOf('118', 'skinfold')
  expect(attempts[0]?.observations[0]?.folds).toEqual([
    { site: 'triceps', halfMillimetres: 25 },
    { site: 'suprailiac', halfMillimetres: 36 },
    { site: 'thigh', halfMillimetres: 41 },
    { site: 'triceps', halfMillimetres: 26 },
    { site: 'suprailiac', halfMillimetres: 48 },
    { site: 'thigh', halfMillimetres: 40 },
    { site: 'suprailiac', halfMillimetres: 37 },
  ])
})

test('a slip is undone with one touch for ten seconds: its trace stays, and the right value is the same try', async () => {
  await journey.bring(['121', '122'])
  await lineUp(journey, 'reach', '121', '122')
  const juno = await station('Reach', 'juno', 'reach')
  await juno.choose('Samir')
  await juno.press('Call up #121')
  await juno.press('Start try 1 of 3')
  await juno.type('36.0')
  await juno.press('Save')
  // The next student is on the screen already: it is one touch all the same.
  await juno.choose('Greta')
  await juno.press(/^Undo/)
  await juno.sees('Undone. 36.0 cm stays in the record as void.')
  await juno.type('26.0')
  await juno.press('Save')
  await juno.sees('26.0 cm (first: 36.0 cm)')
  await juno.sees('Provisional: 26.0 cm')
  await juno.sees('1 of 3 tries used')
  expect((await resultOf('121', 'reach')).attempts).toMatchObject([
    { status: 'recorded', observations: [{ value: { amount: 360 } }], corrections: [{ kind: 'void' }, { kind: 'value' }] },
  ])
})

test('rest not over: refused with the seconds left, and started early with a reason', async () => {
  await journey.bring(['123'])
  await lineUp(journey, 'agility', '123')
  const mira = await station('Agility', 'mira', 'agility')
  await mira.choose('Tomasz')
  await mira.press('Call up #123')
  await mira.press('Start try 1 of 2')
  await mira.type('17.0')
  await mira.press('Save')
  await mira.saved('17.00 s')
  await mira.sees(/^Rest: [23]:\d\d left/)
  await mira.press('Start try 2 of 2')
  await mira.sees(/Rest of 3 min is not over/)
  expect(await axe(mira.page)).toEqual([])
  await mira.page.getByLabel('Why it starts all the same').fill('Last of the day, the student is ready')
  await mira.press('Start early with this reason')
  await mira.page.locator('.pad-keys').waitFor()
  await mira.press('Take back the start')
  await mira.sees('#123: start taken back, try given back')
  await mira.sees('1 of 2 tries used')
})

test('the watch: two touches and a save, by the steady clock; two stations of one person change with one touch', async () => {
  await journey.bring(['124'])
  await lineUp(journey, 'agility', '124')
  const mira = await station('Agility', 'mira', 'agility')
  await mira.choose('Keala')
  await mira.press('Call up #124')
  await mira.press('Start try 1 of 2')
  const watch = mira.page.getByRole('group', { name: 'Stopwatch' })
  await watch.getByRole('button', { name: 'Start' }).click()
  const begun = performance.now()
  await mira.page.waitForTimeout(1_000)
  await watch.getByRole('button', { name: 'Stop' }).click()
  const shown = Number(await mira.page.locator('.watch-digits').innerText())
  expect(shown).toBeGreaterThanOrEqual(1)
  expect(shown).toBeLessThanOrEqual((performance.now() - begun) / 1000 + 0.5)
  await expect.poll(() => mira.page.locator('.pad-value').innerText()).toContain(shown.toFixed(2))
  await mira.press('Save')
  await mira.sees(`${shown.toFixed(2)} s is outside the usual range; keep or retype?`)
  await mira.press('Type it again')
  await mira.press('Take back the start')
  await mira.sees('#124: start taken back, try given back')

  await lineUp(journey, 'reach', '124')
  await lineUp(journey, 'skinfold', '124')
  const juno = await station('Reach', 'juno', 'reach')
  await juno.choose('Keala')
  await juno.press('Call up #124')
  await juno.press('Start try 1 of 3')
  await juno.type('33.5')
  await juno.press('Save')
  await juno.saved('33.5 cm')
  const both = juno.page.getByRole('navigation', { name: 'Your stations' })
  await both.getByRole('button', { name: /^Skinfolds.*1 wait/ }).click()
  await juno.page.getByRole('heading', { level: 1, name: /Skinfolds/ }).waitFor()
  expect(juno.page.url()).toContain('station=skinfold')
  await juno.press('Call up #124')
  await juno.page.getByRole('button', { name: 'Start try 1 of 1' }).waitFor()
  await both.getByRole('button', { name: /^Sit-and-reach/ }).click()
  await juno.page.getByRole('heading', { level: 1, name: /Sit-and-reach/ }).waitFor()
})

test('what is read out of contact is kept on this tablet, said so, and in the record when the site is heard again', async () => {
  await journey.bring(['125'])
  await lineUp(journey, 'reach', '125')
  const juno = await station('Reach', 'juno', 'reach')
  await juno.choose('Esteban')
  await juno.press('Call up #125')
  await juno.press('Start try 1 of 3')
  await juno.page.locator('.pad-keys').waitFor()
  await juno.page.context().setOffline(true)
  const picture = { name: 'box.png', mimeType: 'image/png', buffer: await juno.page.screenshot() }
  await juno.page.locator('.take-photo-file').setInputFiles(picture)
  await juno.sees('goes with this result')
  await juno.sees('1 photo on this tablet only')
  await juno.type('30.0')
  await juno.press('Save')
  await juno.page.locator('.read-back [data-said="kept"]').waitFor({ timeout: 15_000 })
  await juno.sees('Kept on this tablet')
  await juno.sees('1 unsent')
  expect((await resultOf('125', 'reach')).attempts[0]?.observations).toEqual([])
  await juno.page.context().setOffline(false)
  await juno.saved('30.0 cm')
  await juno.sees('Nothing unsent')
  expect((await resultOf('125', 'reach')).attempts[0]?.observations).toMatchObject([{ value: { amount: 300 } }])
  // The photo, taken out of contact, follows and is found by the digest that went with the value.
  const { photoDigest } = (await resultOf('125', 'reach')).attempts[0]!.observations[0]!
  await expect.poll(async () => (await juno.page.request.get(`/api/evidence/${photoDigest}`)).status(), { timeout: 20_000 }).toBe(200)
  const kept = await (await juno.page.request.get(`/api/evidence/${photoDigest}`)).body()
  expect(createHash('sha256').update(kept).digest('hex')).toBe(photoDigest)
  await juno.page.locator('.try').getByRole('button', { name: 'Photo', exact: true }).click()
  const shown = juno.page.getByAltText(/Picture taken of the display/)
  await expect.poll(() => shown.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(0)
  open.at(-1)!.complaints.splice(0)
})

test('a browser that keeps nothing runs no station, and says why and what next; a stop there goes to the record or says that it did not', async () => {
  await journey.bring(['131', '132'], 'bib')
  const { page, context, complaints } = await openDevice('Agility', 'mira', '/station?station=agility')
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('A mutation operation was attempted on a database that did not allow mutations.', 'InvalidStateError')
    }
  })
  await page.reload()
  const hands = handsOn(page)
  await hands.sees('No station runs on this tablet')
  await hands.sees(/keeps nothing that is recorded here \(a private window or a full disk\)\. Take another tablet, or free space/)
  expect(await page.locator('.line-place').count()).toBe(0)
  expect(await axe(page)).toEqual([])
  await hands.press('Stop a student')
  await hands.press(/Stop #131/)
  await page.locator('[data-said="recorded"]').waitFor()

  await context.setOffline(true)
  await hands.press('Stop a student')
  await hands.press(/Stop #132/)
  const no = page.getByRole('alert').filter({ hasText: 'Not saved: Student stopped' })
  await no.getByText(/Write it on paper with its time.*by voice, whistle and radio/).waitFor()
  await context.setOffline(false)
  const { stops } = await journey.view<SafetyView>('safety')
  expect(stops.map(({ bib }) => bib).filter((bib) => bib === '131' || bib === '132')).toEqual(['131'])
  onlyCutOff(complaints.splice(0))
})

test('a disk that fills in mid-day: the value is not called saved, stays on the screen with what to do, and is saved once there is room', async () => {
  await journey.bring(['133'])
  await lineUp(journey, 'agility', '133')
  const { page, context, complaints } = await openDevice('Agility', 'mira', '/icons/icon.svg')
  const disk = await smallDisk(open.at(-1)!, journey.open.house.address)
  await page.goto('/station?station=agility')
  const hands = handsOn(page)
  await hands.press('Call up #133')
  await hands.press('Start try 1 of 2')
  await page.locator('.pad-keys').waitFor()
  await context.setOffline(true)
  await disk.fill()
  await hands.type('18.61')
  await hands.press('Save')
  const no = page.getByRole('alert').filter({ hasText: /Not saved: .*18\.61/ })
  await no.getByText('Write it on paper with its time, and go on with another tablet.', { exact: false }).waitFor()
  await page.locator('.read-back-value', { hasText: '18.61' }).waitFor()
  await page.locator('.read-back').getByText('Not saved', { exact: true }).waitFor()
  expect(await page.locator('[data-said]').count()).toBe(0)
  expect(await axe(page)).toEqual([])

  await disk.empty()
  await hands.press('Save again')
  await page.locator('.read-back [data-said="kept"]').waitFor()
  await disk.fill()
  await context.setOffline(false)
  await hands.saved('18.61 s')
  await journey.clock.forward(3 * 60_000)
  // With the site there, what cannot be kept is told at once.
  await hands.press('Start try 2 of 2')
  await hands.type('18.93')
  await hands.press('Save')
  await hands.saved('18.93 s')
  const { attempts } = await resultOf('133', 'agility')
  expect(attempts.map(({ observations }) => observations.length)).toEqual([1, 1])
  onlyCutOff(complaints.splice(0))
})

test('a load in the wrong unit is asked about in both, and a missed lift counts as an effort', async () => {
  await journey.bring(['126'], 'warmedUp', 60_000)
  await lineUp(journey, 'bench', '126')
  const colm = await station('Bench 1', 'colm', 'bench')
  await colm.choose('Ingrid')
  await colm.press('Call up #126')
  await colm.press('Type the load')
  await colm.type('66')
  await colm.press('Set this load')
  await colm.press('66.0 kg is on the bar: start')
  await colm.sees(/Pounds\? 66\.0 lb would be 29\.9 kg\./)
  expect(await axe(colm.page)).toEqual([])
  await colm.press('Set it again')
  for (const _ of [1, 2, 3]) await colm.press('Less 10.0 kg')
  await colm.press('36.0 kg is on the bar: start')
  await colm.press('No lift')
  await colm.saved('36.0 kg, No lift')
  await colm.sees('5 efforts left')
})

test('who may be tested with an observer only starts when one is named; who was not briefed is asked about and briefed on the spot', async () => {
  await journey.bring(['140'], 'bib')
  await journey.tell('Medical 1', 'petra', 'recordClearance', {
    clearanceId: 'clearance-140',
    studentId: journey.studentId('140'),
    status: 'limited',
    limits: [{ kind: 'withObserver' }],
    supersedes: null,
  })
  await journey.tell('Greeter', 'sanne', 'confirmWarmUp', { studentIds: [journey.studentId('140')] })
  await lineUp(journey, 'reach', '140')
  const juno = await station('Reach', 'juno', 'reach')
  await juno.choose('Zofia')
  await juno.press('Call up #140')
  await juno.press('Start try 1 of 3')
  await juno.sees('This student has not been briefed on this test.')
  await juno.press('Brief now')
  await juno.sees('Shoes off, soles flat on the box')
  expect(await axe(juno.page)).toEqual([])
  await juno.press('Said and understood')
  await juno.sees('Student briefed')
  // The line hears of it a moment after the answer: live pictures come at most twice a second.
  await expect
    .poll(async () => (await journey.view<StationView>('station', 'reach')).students.find((one) => one.bib === '140')?.briefed)
    .toBe(true)
  await juno.page.waitForTimeout(1_000)
  await juno.press('Start try 1 of 3')
  await juno.sees('with an observer only.')
  await juno.page.getByLabel('Observer').selectOption({ label: 'Bo Ekström' })
  await juno.press('Start try 1 of 3')
  await juno.page.locator('.pad-keys').waitFor()
  await juno.press('Take back the start')
  await juno.sees('#140: start taken back, try given back')
})

test('touches: a lift’s outcome is one, a timed and a measured value six at most, a stop two', async () => {
  await journey.bring(['119', '120'])
  await lineUp(journey, 'bench', '119')
  const bench = await station('Bench 1', 'colm', 'bench')
  await bench.choose('Đorđe')
  await bench.press('Call up #119')
  await bench.press(/is on the bar: start$/)
  await bench.page.getByRole('button', { name: 'Good lift' }).waitFor()
  bench.count()
  await bench.press('Good lift')
  await bench.saved(/Good lift/)
  expect(bench.touches).toBe(1)

  await lineUp(journey, 'agility', '120')
  const agility = await station('Agility', 'mira', 'agility')
  await agility.choose('Aoife')
  await agility.press('Call up #120')
  await agility.press('Start try 1 of 2')
  agility.count()
  await agility.type('18.61')
  await agility.press('Save')
  await agility.saved('18.61 s')
  expect(agility.touches).toBe(6)

  await lineUp(journey, 'reach', '120')
  const reach = await station('Reach', 'juno', 'reach')
  await reach.choose('Aoife')
  await reach.press('Call up #120')
  await reach.press('Start try 1 of 3')
  reach.count()
  await reach.type('33.5')
  await reach.press('Save')
  await reach.saved('33.5 cm')
  expect(reach.touches).toBeLessThanOrEqual(6)

  await reach.press('Start try 2 of 3')
  reach.count()
  await reach.press('Stop a student')
  await reach.press(/^Stop #120/)
  await reach.sees('Student stopped')
  expect(reach.touches).toBe(2)
})

test('a bib that was at the reach a moment ago is asked about where the gun would stand, until somebody has looked', async () => {
  await journey.bring(['135'])
  const studentId = journey.studentId('135')
  await lineUp(journey, 'run', '135')
  await reads(journey, 240)
  const bo = handsOn((await openDevice('Track 2', 'bo', '/run')).page)
  await bo.page.getByRole('button', { name: /GUN/ }).waitFor()
  const attempt = { attemptId: 'reach-135', studentId, stationId: 'reach', official: true, equipmentIds: [] }
  await journey.tell('Reach', 'juno', 'startAttempt', { ...attempt, load: null, observerId: null, earlyBecause: null })
  await journey.tell('Reach', 'juno', 'recordResult', {
    ...attempt,
    observationId: 'seen-135',
    outcome: 'good',
    value: { amount: 335, unit: 'millimetres', resolution: 5, method: 'footLine260mm' },
    folds: [],
    fault: null,
    keptUnusual: false,
    photoDigest: null,
    fromPaper: null,
  })
  await bo.sees(/^#135 was seen at .+ \d+ s ago\. Look at the bib and the face/)
  expect(await bo.page.getByRole('button', { name: /GUN/ }).count()).toBe(0)
  expect(await axe(bo.page)).toEqual([])
  await bo.press('It is this runner')
  await bo.page.getByRole('button', { name: /GUN/ }).waitFor()
})

test('a bib that runs on the track is asked about at another station; what happened all the same is kept on both sides, and waits', async () => {
  await journey.bring(['134'])
  await reads(journey, 240)
  const runner = { waveId: 'w-134', studentId: journey.studentId('134') }
  await journey.tell('Track 2', 'bo', 'startWave', {
    waveId: runner.waveId,
    stationId: 'run',
    runners: [{ studentId: runner.studentId, attemptId: 'run-134' }],
    official: true,
  })
  const juno = await station('Reach', 'juno', 'reach')
  await juno.choose('134')
  await juno.press('Start try 1 of 3')
  await juno.sees(/^#134 was seen at Run, one and a half miles \d+ s ago\. Look at the bib and the face/)
  expect(await axe(juno.page)).toEqual([])
  await juno.press('It is this student: start')
  await juno.sees('Look at the bib and the face. If they are right, record or release that attempt first.')
  await juno.press(/^It has happened already/)
  await juno.type('33.5')
  await juno.press('Save')
  await juno.saved('33.5')
  await journey.tell('Track 2', 'bo', 'recordCrossing', { observationId: 'lap-134', ...runner, line: 'lap' })
  const asked = async () =>
    (await journey.view<InboxView>('inbox')).items.filter(({ bib }) => bib === '134').map(({ because, stationId }) => [stationId, because])
  await expect.poll(asked).toEqual([
    ['reach', 'otherUnderWay'],
    ['run', 'twoPlaces'],
  ])
  expect((await runnerOf(journey, '134')).crossings).toHaveLength(1)
})

test('a hold takes two touches; it fills the other screens of its zone within two seconds until it is heard there; a start is refused', async () => {
  await journey.bring(['127'])
  const mira = await station('Agility', 'mira', 'agility')
  const juno = await station('Reach', 'juno', 'reach')
  mira.count()
  await mira.press('Raise a hold')
  await mira.press(/^Lightning Gym: raise a hold$/)
  expect(mira.touches).toBe(2)
  const notice = juno.page.getByRole('alertdialog')
  await notice.waitFor({ timeout: 2_000 })
  expect(await notice.innerText()).toContain('Hold in force: Gym')
  expect(await axe(juno.page)).toEqual([])
  await juno.press('I have heard it')
  await notice.waitFor({ state: 'detached' })
  await juno.sees('Hold in force: Gym')

  await juno.choose('Dawit')
  await juno.press('Start try 1 of 3')
  await juno.sees(/A hold is in force in Gym since/)
  await juno.sees('No hold over this zone')
  const { holds } = await journey.view<SafetyView>('safety')
  expect(holds[0]?.heard.map((one) => one.personId)).toContain(journey.open.academy.staff.juno.personId)
})
