import type { MedicalView } from '@musterbook/day/views/medical'
import type { RecordView } from '@musterbook/day/views/record'
import type { StationView } from '@musterbook/day/views/station'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, listensIn, type Device } from './browser.ts'
import {
  atClock,
  crosses,
  eventually,
  fireGun,
  isSound,
  joins,
  lapKey,
  pause,
  reads,
  runnerOf,
  runResult,
  safetyOf,
  toTheTrack,
  until,
  waveOf,
} from './run-hands.ts'
import { nothingBroke } from './station-hands.ts'

let journey: Journey
let track: Device
let safety: Device

const open = async (...bibs: string[]) => {
  journey = await openJourney()
  await toTheTrack(journey, ...bibs)
  track = await journey.openScreen('Track 1', 'wren', '/run')
  safety = await journey.openScreen('Safety', 'rashid', '/safety')
}
const close = async () => {
  nothingBroke(track.complaints)
  nothingBroke(safety.complaints)
  await journey.close()
}
/** The track's tablet hears the site's clock 0.8 s after it asked: it knows the time to ± 0.4 s. */
async function knowsTheTimeToFourTenths({ page }: Device): Promise<void> {
  await page.route('**/api/clock', async (route) => {
    await pause(795)
    await route.continue()
  })
  let answers = 0
  page.on('response', (one) => one.url().endsWith('/api/clock') && answers++)
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')))
  await eventually(async () => answers >= 5, 20_000)
}
const tab = (device: Device, says: string) => device.page.locator('.tab').filter({ hasText: says }).first().tap()
/** The supervisor's desk, standing at the hold. */
async function replayAtTheHold() {
  const tomas = await journey.client('Office desk', 'tomas')
  const { entries } = (await tomas.get(`/api/days/${journey.open.dayId}/entries?after=0`)).body as {
    entries: { events: { type: string }[] }[]
  }
  const position = entries.findIndex(({ events }) => events.some(({ type }) => type === 'holdRaised')) + 1
  const desk = await journey.openScreen('Office desk', 'tomas', `/replay#part=moment&position=${position}`)
  const entry = desk.page.getByRole('region', { name: 'What this entry says' })
  await entry
    .getByText(/^Hold raised over/)
    .first()
    .waitFor()
  if (process.env.MUSTERBOOK_SHOTS)
    await desk.page.screenshot({ path: `${process.env.MUSTERBOOK_SHOTS}/replay-hold-${position}.png`, fullPage: true })
  nothingBroke(desk.complaints)
  return entry
}
const headsSeen = async () =>
  (await safetyOf(journey)).heads.flatMap(({ expected }) => expected.filter(({ seen }) => seen).map(({ bib }) => bib))
const press = (device: Device, name: string | RegExp) => device.page.getByRole('button', { name }).first().tap()

describe('a hold and a gun in the same second', () => {
  beforeAll(() => open('112', '113'))
  afterAll(close)

  test('the bands overlap: the hold governs, and nobody can say which came first', async () => {
    await reads(journey, 240)
    await knowsTheTimeToFourTenths(track)
    await fireGun(track.page, 2)
    const { gunAt } = await waveOf(journey, '112')
    const rashid = await journey.client('Safety', 'rashid')
    const raised = await rashid.tell(
      journey.open.dayId,
      'raiseHold',
      { holdId: 'hold-1', kind: 'heat', zoneId: 'track' },
      { envelope: { ...rashid.stamp(gunAt + 300), bandMs: 200 } },
    )
    expect(raised.status).toBe(201)
    const notice = track.page.getByRole('alertdialog')
    await notice.waitFor({ timeout: 2_000 })
    const says = await notice.innerText()
    expect(says).toContain('A hold is in force: stop the wave')
    expect(says).toContain('It cannot be said which came first, the hold or the start. The hold governs.')
    await isSound(track)
    await notice.getByRole('button', { name: 'I have heard it' }).tap()
    expect(await track.page.locator('.wave-hold').innerText()).toContain('Order not certain; hold governs.')
    const [hold] = (await safetyOf(journey)).holds
    expect(hold).toMatchObject({ dispositionDue: 2, underWay: [{ orderNotCertain: true }, { orderNotCertain: true }] })
    expect((await waveOf(journey, '112')).open).toBe(true)
  })

  test('a disposition closes the wave: no try is used', async () => {
    await tab(safety, 'Holds')
    expect(await safety.page.locator('.hold-card').innerText()).toContain('order not certain; hold governs')
    await press(safety, /^Stop and walk in/)
    await eventually(async () => (await safetyOf(journey)).holds[0]?.dispositionDue === 0)
    expect((await waveOf(journey, '112')).open).toBe(false)
    for (const bib of ['112', '113']) expect((await runResult(journey, bib)).result.state).toBe('interrupted')
  })

  test('the replay shows both with their bands and says that the hold governs', async () => {
    const entry = await replayAtTheHold()
    await entry.getByText('Order not certain; hold governs').waitFor()
    const drawn = entry.locator('.replay-bands li')
    expect(await drawn.filter({ hasText: 'Hold raised over' }).innerText()).toContain('± 200 ms')
    const gun = /± (\d+) ms/.exec(await drawn.filter({ hasText: 'A wave of 2 started' }).innerText())
    expect(Number(gun?.[1])).toBeGreaterThanOrEqual(398)
    expect(Number(gun?.[1])).toBeLessThan(800)
    expect(await entry.locator('.replay-bands svg rect').count()).toBe(await drawn.count())
  })
})

describe('the same hold two seconds after the gun', () => {
  beforeAll(() => open('112', '113'))
  afterAll(close)

  test('orders clearly after it: the wave stops, and nothing is said of an order that is not certain', async () => {
    await reads(journey, 240)
    await fireGun(track.page, 2)
    const { gunAt } = await waveOf(journey, '112')
    await until(journey, gunAt + 2_000)
    const rashid = await journey.client('Safety', 'rashid')
    const raised = await rashid.tell(
      journey.open.dayId,
      'raiseHold',
      { holdId: 'hold-1', kind: 'heat', zoneId: 'track' },
      { envelope: { ...rashid.stamp(gunAt + 2_000), bandMs: 600 } },
    )
    expect(raised.status).toBe(201)
    const notice = track.page.getByRole('alertdialog')
    await notice.waitFor({ timeout: 2_000 })
    expect(await notice.innerText()).toContain('A hold is in force: stop the wave')
    expect(await notice.innerText()).not.toContain('It cannot be said which came first')
    await notice.getByRole('button', { name: 'I have heard it' }).tap()
    expect(await track.page.locator('.wave-hold').innerText()).not.toContain('Order not certain')
    const [hold] = (await safetyOf(journey)).holds
    expect(hold).toMatchObject({ dispositionDue: 2, underWay: [{ orderNotCertain: false }, { orderNotCertain: false }] })
    // Nothing chosen yet, the wave stays open; then it closes and no try is used.
    expect((await waveOf(journey, '112')).open).toBe(true)
    await tab(safety, 'Holds')
    await press(safety, /^Stop and walk in/)
    await eventually(async () => !(await waveOf(journey, '112')).open)
    expect((await runResult(journey, '113')).result).toMatchObject({ state: 'interrupted', because: 'hold' })
    const entry = await replayAtTheHold()
    expect(await entry.locator('.replay-bands li').filter({ hasText: 'A wave of 2 started' }).count()).toBe(0)
  })
})

describe('twelve on lap four', () => {
  const twelve = ['101', '102', '105', '106', '108', '109', '110', '111', '112', '113', '115', '116']
  beforeAll(async () => {
    await open(...twelve)
    await journey.bring(['120'])
    await joins(journey, '120')
    // Colm’s bench tablet is taken into use while its code is young.
    await journey.client('Bench 1', 'colm')
  })
  afterAll(close)

  test('the track stops: full screen, until Wren says that it was heard', async () => {
    await until(journey, atClock('10:18:20'))
    await reads(journey, 270)
    await press(track, /^120/)
    await fireGun(track.page, 12)
    for (const lap of [1, 2, 3]) {
      const { gunAt } = await waveOf(journey, '101')
      await until(journey, gunAt + lap * 120_000)
      for (const bib of twelve) await lapKey(track.page, bib).tap()
    }
    await eventually(async () => (await waveOf(journey, '101')).runners.every(({ laps }) => laps === 3))
    await until(journey, atClock('10:25'))
    await track.page.evaluate(listensIn)
    await press(safety, 'Raise a hold')
    await safety.page.getByRole('button', { name: 'Heat Track: raise a hold' }).tap()
    const notice = track.page.getByRole('alertdialog')
    await notice.waitFor({ timeout: 2_000 })
    expect(await notice.innerText()).toMatch(
      /Stop[\s\S]*Hold in force: Track[\s\S]*Raised 10:25:0\d by Rashid Benning[\s\S]*12 under way[\s\S]*stop the wave/,
    )
    await expect.poll(() => track.page.evaluate('heard.tones')).toBeGreaterThanOrEqual(2)
    await isSound(track)

    await tab(safety, 'Holds')
    await isSound(safety)
    await tab(safety, 'Roll-call')
    const silent = safety.page.locator('.heard').first().locator('li:not([data-state=heard])')
    await journey.tell('Track 2', 'bo', 'acknowledgeHold', { holdId: (await safetyOf(journey)).holds[0]!.holdId })
    await safety.page.getByText('1 of 2 heard', { exact: true }).waitFor()
    expect(await silent.allInnerTexts()).toEqual([expect.stringContaining('Track 1')])
    await notice.getByRole('button', { name: 'I have heard it' }).tap()
    await notice.waitFor({ state: 'detached' })
    await safety.page.getByText('2 of 2 heard', { exact: true }).waitFor()
    expect(await silent.count()).toBe(0)
    await heardByRadio()
    await safety.page.locator('.heard-list li[data-state=heard]').filter({ hasText: 'Track 1' }).waitFor()
    await tab(safety, 'Holds')
  })

  /** Colm's bench tablet shows the hold to nobody; he says over the radio that he heard it. */
  async function heardByRadio() {
    const { page } = safety
    await page.locator('.others summary').tap()
    const bench = page.locator('.heard-list li').filter({ hasText: 'Bench 1' })
    await bench.getByRole('button', { name: 'Heard by radio' }).tap()
    await bench.getByLabel('Who gave the word').selectOption({ label: 'Colm Sato' })
    expect(await axe(page)).toEqual([])
    await bench.getByRole('button', { name: 'Save' }).tap()
    await bench.getByText(/^Heard by radio, 10:2\d: Colm Sato; noted by Rashid Benning$/).waitFor()
    expect(await bench.getAttribute('data-state')).not.toBe('heard')
    const [hold] = (await safetyOf(journey)).holds
    expect(hold?.heardByRadio).toHaveLength(1)
    expect(hold?.heard.map(({ deviceId }) => deviceId)).not.toContain(hold?.heardByRadio?.[0]?.deviceId)
  }

  test('laps that are run all the same are recorded', async () => {
    await lapKey(track.page, '101').tap()
    await eventually(async () => (await runnerOf(journey, '101')).crossings.length === 4)
    expect(await runnerOf(journey, '101')).toMatchObject({ status: 'held' })
    await isSound(track)
  })

  test('twelve efforts are interrupted by safety: laps kept, no percentile, no used try, twelve retests', async () => {
    await press(safety, /^Stop and walk in/)
    await safety.page.getByText('Chosen: Stop and walk in').waitFor()
    await eventually(async () => (await safetyOf(journey)).holds[0]?.dispositionDue === 0)
    let retests = 0
    for (const bib of twelve) {
      expect(await runnerOf(journey, bib)).toMatchObject({ status: 'interrupted' })
      const record = await journey.view<RecordView>('record', journey.studentId(bib))
      expect(record.stations.find(({ stationId }) => stationId === 'run')?.result).toMatchObject({
        state: 'interrupted',
        because: 'hold',
        percentile: null,
      })
      expect(record.entitlements).toMatchObject([{ stationIds: ['run'], until: '2027-05-25' }])
      retests += record.entitlements.length
    }
    expect(retests).toBe(12)
    const { students } = await journey.view<StationView>('station', 'run')
    const used = students.filter(({ bib }) => twelve.includes(bib!)).map(({ triesUsed, tries }) => `${triesUsed} of ${tries}`)
    expect(used).toEqual(twelve.map(() => '0 of 1'))
    expect((await runnerOf(journey, '102')).laps).toBe(3)
    await track.page.locator('.runner', { hasText: '102' }).getByText('Interrupted by safety hold, no try used').waitFor()
    expect(await safety.page.locator('.under-way').innerText()).toContain('Interrupted by safety: no score, no try used, retest')
  })

  test('the headcount asks for all twelve', async () => {
    await tab(safety, 'Now')
    await safety.page.getByText('Track: headcount after the hold').waitFor()
    await isSound(safety)
    await tab(safety, 'People')
    const heads = safety.page.locator('.head')
    expect(await heads.count()).toBe(12)
    await heads.filter({ hasText: '112' }).tap()
    await safety.page.getByText('1 of 12 seen').waitFor()
    await eventually(async () => (await headsSeen()).includes('112'))
    // A touch outlives the page, and the track sees it.
    await safety.page.reload()
    await tab(safety, 'People')
    await safety.page.getByText('1 of 12 seen').waitFor()
    await track.page.getByText('Cool-down', { exact: true }).tap()
    await track.page.getByText('1 of 12 seen').waitFor()
    await track.page.locator('.head').filter({ hasText: '113' }).tap()
    await safety.page.getByText('2 of 12 seen').waitFor()
    await press(safety, 'All of them are here')
    await press(safety, 'Save: 12 of 12 here')
    await safety.page.getByText('Nobody expected there was missing.').waitFor()
    expect((await safetyOf(journey)).headcounts).toMatchObject([{ zone: 'Track', missing: [] }])
    await isSound(safety)
  })

  test('the bench indoors stays open; any outdoor start is refused since 10:25, and the refusal is kept', async () => {
    await journey.tell('Bench 1', 'colm', 'callUp', { studentId: journey.studentId('120'), stationId: 'bench' })
    await journey.tell('Bench 1', 'colm', 'startAttempt', {
      attemptId: 'bench-120',
      studentId: journey.studentId('120'),
      stationId: 'bench',
      official: true,
      load: { amount: 400, unit: 'tenthsKg', resolution: 1, method: 'barAndPlates' },
      equipmentIds: [],
      observerId: null,
      earlyBecause: null,
    })
    await journey.bring(['117'])
    await joins(journey, '117')
    await tab(track, 'Next wave')
    await track.page.locator('.run-no').waitFor()
    expect(await track.page.locator('.run-no').innerText()).toMatch(
      /Do not start[\s\S]*A hold is in force in Track since 10:25, by Rashid Benning/,
    )
    expect(await track.page.getByRole('button', { name: /GUN/ }).count()).toBe(0)
    await press(track, /Ask the day all the same/)
    expect(await track.page.locator('.refusal').innerText()).toContain('A hold is in force in Track since 10:25.')
    expect((await journey.view<{ waves: unknown[] }>('station', 'run')).waves).toHaveLength(1)
    await isSound(track)
  })

  test('10:35: a reading older than the hold lifts nothing', async () => {
    await until(journey, atClock('10:35'))
    await tab(safety, 'Holds')
    const [offered] = await safety.page.locator('.offered').allInnerTexts()
    expect(offered).toMatch(/27\.0 °C[\s\S]*That reading is older than the hold/)
    await press(safety, 'Propose to lift')
    await safety.page.locator('.refusal').getByText('That reading is older than the hold.').waitFor()
    await isSound(safety)
  })

  test('10:41: an instrument that has not settled lifts nothing', async () => {
    await until(journey, atClock('10:41'))
    await takesReading('271', 'Not settled')
    await tab(safety, 'Holds')
    await safety.page.locator('.offered').first().getByText('27.1 °C').waitFor()
    await press(safety, 'Propose to lift')
    await safety.page
      .locator('.refusal')
      .getByText(/not settled/i)
      .waitFor()
    expect((await safetyOf(journey)).holds[0]?.proposal).toBeNull()
  })

  test('10:50: a settled reading may be proposed; the same person twice is refused', async () => {
    await until(journey, atClock('10:50'))
    await takesReading('271', 'Settled')
    await tab(safety, 'Holds')
    await safety.page.locator('.offered').first().getByText('Nothing of the policy stands in the way').waitFor()
    await press(safety, 'Propose to lift')
    await safety.page.getByText(/Lift proposed by Rashid Benning at 10:5\d/).waitFor()
    await isSound(safety)
    await press(safety, /^Confirm the lift/)
    await safety.page.locator('.refusal').getByText('The second person must be a different one.').waitFor()
    expect((await safetyOf(journey)).holds[0]?.lifted).toBeNull()
  })

  test('Tomas confirms: no hold in force, and the age of the last reading', async () => {
    const tomas = await journey.openScreen('Office desk', 'tomas', '/safety', { width: 800, height: 1280 })
    const notice = tomas.page.getByRole('alertdialog')
    await notice.getByRole('button', { name: 'I have heard it' }).tap()
    await tab(tomas, 'Holds')
    await press(tomas, /^Confirm the lift/)
    await tomas.page.locator('.empty').getByText('No hold in force').waitFor()
    expect(await tomas.page.locator('.newest').innerText()).toMatch(/27\.1 °C[\s\S]*read \d+ s ago, Track, W-1, by Rashid Benning/)
    expect((await safetyOf(journey)).holds[0]?.lifted).toMatchObject({ by: journey.open.academy.staff.tomas.personId })
    await isSound(tomas)
    await tab(safety, 'Now')
    await safety.page.locator('.in-force').getByText('No hold in force').waitFor()
    await tomas.context.close()
  })

  test('10:51: who stands ready runs; 11:21: a stale reading refuses the next wave, and laps are recorded still', async () => {
    await fireGunFor(track, /GUN/)
    await journey.bring(['119'])
    await joins(journey, '119')
    await until(journey, atClock('11:21:10'))
    await tab(track, 'Next wave')
    await track.page.locator('.run-no').getByText('The last reading is 31 min old; a new reading is needed before outdoor starts').waitFor()
    await press(track, /Ask the day all the same/)
    const refusal = await track.page.locator('.refusal').innerText()
    expect(refusal).toContain('The last reading is 31 min old.')
    expect(refusal).toContain('A new reading is needed before outdoor starts.')
    await isSound(track)
    await tab(track, 'Wave 2')
    await lapKey(track.page, '117').tap()
    await eventually(async () => (await runnerOf(journey, '117')).laps === 1)
    await tab(safety, 'Now')
    await safety.page.getByText(/Reading overdue: the last one is 31 min old/).waitFor()
    await isSound(safety)
    await tab(safety, 'The day')
    await safety.page.locator('.chart').waitFor()
    await isSound(safety)
  })
})

describe('a collapse on lap five', () => {
  let medical: Device
  beforeAll(async () => {
    await open('115', '116')
    medical = await journey.openScreen('Medical 1', 'petra', '/medical')
  })
  afterAll(close)

  test('two touches: safety hears within two seconds, the other runs on, and nothing starts for the one', async () => {
    await reads(journey, 240)
    await fireGun(track.page, 2)
    for (const lap of ['2:00.0', '4:00.0', '6:00.0', '8:00.0']) await crosses(journey, track.page, '115', lap)
    await crosses(journey, track.page, '116', '8:10.0')
    await press(track, 'Stop a student')
    const pressed = performance.now()
    await track.page.getByRole('button', { name: /Stop #115/ }).tap()
    await safety.page.getByText(/Medical stop #115, Track: not acknowledged/).waitFor()
    await eventually(async () => {
      const petra = await journey.client('Medical 1', 'petra')
      const { body } = await petra.get(`/api/days/${journey.open.dayId}/views/medical/all`)
      return (body['body'] as MedicalView).students.some(({ bib, stop }) => bib === '115' && stop?.zone === 'Track')
    })
    await medical.page.locator('.medical-now[data-open]').waitFor()
    expect(performance.now() - pressed).toBeLessThan(2_000)
    await medical.page.locator('.tab').first().tap()
    await medical.page.locator('.medical-row').filter({ hasText: '115' }).getByText('Stopped').waitFor()
    await isSound(safety)

    const told = track.page.locator('.standing', { hasText: /#115 was stopped here at \d\d:\d\d/ })
    await told.getByRole('button', { name: 'Emergency card' }).tap()
    const card = track.page.getByRole('dialog', { name: 'Emergency card' })
    await card.getByText('channel 4, “Skarnvale medical”').waitFor()
    await isSound(track)
    await card.getByRole('button', { name: 'Close' }).tap()
    await told.getByRole('button', { name: 'Close' }).tap()
    await track.page.locator('.runner', { hasText: '115' }).getByText('Medical stop').waitFor()
    expect(await runnerOf(journey, '115')).toMatchObject({ status: 'stopped', laps: 4 })
    expect((await runResult(journey, '115')).result).toMatchObject({ state: 'interrupted', because: 'medicalStop', percentile: null })
    await crosses(journey, track.page, '116', '10:10.0')
    expect(await runnerOf(journey, '116')).toMatchObject({ status: 'running', laps: 2 })
    await isSound(track)
    for (const stationId of ['agility', 'bench', 'reach', 'skinfold', 'run']) {
      const { students } = await journey.view<StationView>('station', stationId)
      const gate = students.find(({ bib }) => bib === '115')?.gates.find((one) => one.gate === 'stop')
      expect(gate, stationId).toMatchObject({ state: 'notMet', who: 'Medical screener' })
      expect(students.find(({ bib }) => bib === '116')?.gates.find((one) => one.gate === 'stop')).toMatchObject({ state: 'met' })
    }
    const blocked = await journey.tell(
      'Track 2',
      'bo',
      'callUp',
      { studentId: journey.studentId('115'), stationId: 'agility' },
      { expect: 423 },
    )
    expect(blocked.body['refused']).toMatchObject({ rule: 'stopped' })
  })

  test('acknowledged and arrived are recorded with their times', async () => {
    await tab(safety, 'People')
    await press(safety, 'I have heard it')
    await safety.page.getByText(/Acknowledged \d\d:\d\d:\d\d by Rashid Benning/).waitFor()
    await press(safety, 'I am with them')
    await safety.page.getByText(/Arrived \d\d:\d\d:\d\d: Rashid Benning/).waitFor()
    expect((await safetyOf(journey)).stops[0]?.answers.map(({ answer }) => answer)).toEqual(['acknowledged', 'arrived'])
    await tab(safety, 'The day')
    const timeline = await safety.page.getByRole('link', { name: 'Print readings, holds and stops' }).getAttribute('href')
    const sheet = await journey.openScreen('Safety', 'rashid', timeline!)
    const row = async (what: string) => (await sheet.page.getByRole('row').filter({ hasText: what }).allInnerTexts()).join()
    expect(await row('Medical stop #115, Track')).toMatch(/\d\d:\d\d:\d\d\s+\d\d:\d\d:\d\d.*Wren Adeyemi/)
    expect(await row('Medical stop #115 acknowledged')).toMatch(/\d\d:\d\d:\d\d.*Rashid Benning/)
    expect(await row('Arrived at #115')).toMatch(/\d\d:\d\d:\d\d.*Rashid Benning/)
    expect(await sheet.page.locator('main').innerText()).not.toMatch(/unwell|hurt|faint|heat stroke|not said/i)
    await isSound(sheet)
    await sheet.context.close()
    await tab(safety, 'People')
    await isSound(safety)
  })

  test('the station’s record says medical stop and no diagnosis; only a screener can restore', async () => {
    const record = JSON.stringify(await journey.view('record', journey.studentId('115')))
    expect(record).toContain('medicalStop')
    expect(record).not.toMatch(/unwell|hurt|faint|heat stroke/i)
    const mira = await journey.tell('Agility', 'mira', 'restore', { studentId: journey.studentId('115') }, { expect: 403 })
    expect(JSON.stringify(mira.body)).toMatch(/role|screener/i)
    expect((await safetyOf(journey)).stops).toHaveLength(1)
    await medical.context.close()
  })
})

/** As the meter shows it: three touches and the value. */
async function takesReading(digits: string, settled: 'Settled' | 'Not settled'): Promise<void> {
  const { page } = safety
  const before = (await safetyOf(journey)).readings.length
  await tab(safety, 'Take a reading')
  if (await page.getByRole('button', { name: 'Take another' }).count()) await press(safety, 'Take another')
  await page.getByText(settled, { exact: true }).tap()
  await isSound(safety)
  await press(safety, 'Take this reading')
  for (const digit of `${digits.slice(0, -1)}`) await page.getByRole('button', { name: digit, exact: true }).tap()
  await press(safety, 'Decimal mark')
  await page.getByRole('button', { name: digits.at(-1)!, exact: true }).tap()
  await press(safety, 'Take this reading')
  await page.getByText('In force on this day').waitFor()
  await eventually(async () => (await safetyOf(journey)).readings.length > before)
}

async function fireGunFor(device: Device, gun: RegExp): Promise<void> {
  await device.page.getByRole('button', { name: gun }).tap()
  await device.page.locator('.wave-elapsed').waitFor()
}
