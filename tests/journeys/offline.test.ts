import type { RecordView } from '@musterbook/day/views/record'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { badgeOf, openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { backInReach, cutOff, installed, onlyCutOff, stored, unsent } from './offline-hands.ts'
import { eventually, safetyOf } from './run-hands.ts'
import { burst, handsOn, lineUp, staffAndBrief, type Hands } from './station-hands.ts'

let journey: Journey
let agility: Device
let hands: Hands
let safety: Device
let badge: string

beforeAll(async () => {
  journey = await openJourney()
  await staffAndBrief(journey)
  await journey.bring(['108', '105'])
  await lineUp(journey, 'agility', '108', '105')
  const value = { amount: 250, unit: 'tenthsDegC', resolution: 1, method: 'instrument' } as const
  await journey.tell('Safety', 'rashid', 'checkEquipment', { equipmentId: 'W-1', passed: true, reference: value, read: value })
  badge = await badgeOf(journey, 'mira')
  agility = await installed(journey, 'Agility', 'mira', '/station?station=agility')
  hands = handsOn(agility.page)
  safety = await installed(journey, 'Safety', 'rashid', '/safety')
  await eventually(async () => JSON.stringify(await stored(safety.page, 'facts')).includes('wbgtMeter'))
})
afterAll(async () => {
  for (const { complaints } of [agility, safety]) onlyCutOff(complaints)
  await journey?.close()
})

test('with no network and no server the station opens from a cold start, with its day, its names and whoever works there', async () => {
  await cutOff(journey, agility, safety)
  await agility.page.close()
  agility.page = await agility.context.newPage()
  hands = handsOn(agility.page)
  await agility.page.goto('/station?station=agility')
  await hands.sees('At this station')
  await hands.sees(/Signed on: Mira Delacroix/)
  await hands.sees('Sunniva Pell')
  await hands.sees(/Out of contact: starts are decided here/)
  hands.count()
  await hands.press('Emergency card')
  await hands.sees(/North gate, beside the timing hut/)
  expect(hands.touches).toBe(1)
  await hands.sees(/Written by Petra Holm.*2027-04-20/)
  await hands.sees(/adopted by Ines Varga and Tomas Lindqvist/)
  expect(await axe(agility.page)).toEqual([])
  await hands.press('Close')
  await unsent(agility.page, 'Nothing unsent')
})

test('a try is called up, started and recorded there: kept on this tablet, said so, and counted', async () => {
  await hands.press('Call up #108')
  await hands.press('Start try 1 of 2')
  await hands.type('18.61')
  await hands.press('Save')
  await agility.page.locator('.read-back [data-said="kept"]').waitFor()
  await unsent(agility.page, '3 unsent')
  expect(await stored(agility.page, 'outbox')).toMatchObject([
    { item: { act: 'callUp', envelope: { decidedOnDevice: true } } },
    { item: { act: 'startAttempt', envelope: { decidedOnDevice: true } } },
    { item: { act: 'recordResult', by: { signedOn: 'withPin' } } },
  ])
  await hands.sees('1 of 2')
})

test('the safety officer’s tablet opens there too: the site’s meter with its last check, and a reading that is kept until the site has it', async () => {
  await safety.page.close()
  safety.page = await safety.context.newPage()
  await safety.page.goto('/safety')
  const walk = handsOn(safety.page)
  await safety.page.locator('.tab').filter({ hasText: 'Take a reading' }).tap()
  await safety.page.locator('.tab').filter({ hasText: 'W-1' }).waitFor()
  await walk.sees(/W-1: last check \d\d:\d\d, .* ago, within tolerance/)
  await walk.sees('Calibration holds until 2027-12-31')
  await walk.press('Set up here now')
  await safety.page
    .getByRole('timer')
    .filter({ hasText: /^2[45]:\d\d$/ })
    .waitFor()
  await safety.page
    .locator('.tab')
    .filter({ hasText: /^Settled/ })
    .tap()
  await walk.sees(/W-1 was set up .* ago. Has it settled all the same\?/)
  await walk.press(/^Settled all the same/)
  await walk.press('Take this reading')
  await walk.type('24.3')
  await walk.press('Take this reading')
  await walk.sees(/1 reading is kept on this tablet. The site does not have it yet/)
  await unsent(safety.page, '1 unsent')
  expect(await stored(safety.page, 'outbox')).toMatchObject([
    { item: { kind: 'reading', body: { instrumentId: 'W-1', wbgt: { amount: 243 }, confirmed: ['settledEarly'] } } },
  ])
})

test('signing off is refused, with why and what next', async () => {
  await hands.press('Sign off')
  await hands.sees(/3 things here are kept on this tablet alone/)
  await hands.sees(/Bring the tablet into reach/)
})

test('back in reach of a server that has started anew, all of it is in the record, once, under the name of who was there', async () => {
  await backInReach(journey, agility, safety)
  await unsent(agility.page, 'Nothing unsent')
  const record = await journey.view<RecordView>('record', journey.studentId('108'))
  expect(JSON.stringify(record.stations.find(({ stationId }) => stationId === 'agility'))).toContain('1861')
  await unsent(safety.page, 'Nothing unsent')
  await eventually(async () => (await safetyOf(journey)).readings.some((one) => one.wbgtTenths === 243 && one.saidSettledEarly))
  await safety.page.getByText('Said settled early, by Rashid Benning').first().waitFor()
  await hands.sees(/the site asks for your PIN/)
  await eventually(async () => (await stored(agility.page, 'outbox')).length === 0)
})

test('out of contact only who had signed on there signs on, without a PIN, and that is said and written down', async () => {
  const { page } = agility
  await cutOff(journey, agility)
  await hands.sees(/Out of contact: starts are decided here/)
  await hands.press('Sign off')
  await hands.sees('Who is working here, out of contact?')
  expect(await page.locator('.names button').allInnerTexts()).toEqual(['Mira Delacroix'])
  expect(JSON.stringify(await stored(page, 'facts'))).not.toContain(journey.open.academy.staff.mira.pin)
  await burst(page, 'B0000000', 5)
  await hands.sees('No badge B0000000 has signed on at this tablet lately.')
  await burst(page, badge, 5)
  await hands.sees(/Signed on: Mira Delacroix \(signed on out of contact\)/)
  await hands.press('Stop a student')
  await page
    .locator('dialog[open]')
    .getByRole('button', { name: /Stop #105/ })
    .click()
  await unsent(page, '2 unsent')

  await backInReach(journey, agility)
  await unsent(page, 'Nothing unsent')
  const events: unknown[] = []
  for await (const entry of journey.open.house.ledger.read(`access/${journey.open.academy.siteId}`, 0)) events.push(...entry.events)
  const { personId } = journey.open.academy.staff.mira
  expect(events.filter((event) => (event as { type: string }).type === 'signedOnOutOfContact')).toMatchObject([{ personId }])
  const stops: unknown[] = []
  for await (const entry of journey.open.house.ledger.read(`day/${journey.open.dayId}`, 0))
    if (entry.events.some(({ type }) => type === 'studentStopped')) stops.push(entry.meta.personId)
  expect(stops).toEqual([personId])
})

test('what the server cannot read stands whole on both screens, and the tablet lets go of it once the supervisor has done it by hand', async () => {
  const { page } = agility
  const old = { kind: 'act', dayId: journey.open.dayId, act: 'measureHope', by: { personId: null, signedOn: null }, body: { hope: 7 } }
  await page.evaluate(
    (item) =>
      new Promise<void>((resolve) => {
        const asked = indexedDB.open('musterbook')
        asked.onsuccess = () => {
          const change = asked.result.transaction('outbox', 'readwrite')
          change.objectStore('outbox').add({ item, urgent: false })
          change.oncomplete = () => (asked.result.close(), resolve())
        }
      }),
    old,
  )
  await page.reload()
  await hands.sees(/1 item could not be read by the site. It is kept whole there and here/)
  expect(await stored(page, 'outbox')).toMatchObject([{ item: old, unread: { number: 1, because: 'notUnderstood' } }])

  const desk = await journey.openScreen('Office desk', 'tomas', '/supervisor')
  const supervisor = handsOn(desk.page)
  await desk.page.locator('.tab', { hasText: 'Inbox' }).click()
  await supervisor.sees('Item 1, Agility')
  await supervisor.press('Read it whole: 1')
  await supervisor.sees(/"measureHope"/)
  await supervisor.press('Done by hand: 1')
  await desk.page.getByText('Item 1, Agility').waitFor({ state: 'detached' })
  await desk.context.close()

  await page.reload()
  await eventually(async () => (await stored(page, 'outbox')).length === 0, 15_000)
})

test('a screen that needs the server says so, and what opens without it', async () => {
  await cutOff(journey, agility)
  const page = await agility.context.newPage()
  await page.goto('/supervisor')
  await page.getByRole('heading', { name: 'This screen needs the server' }).waitFor()
  expect(await axe(page)).toEqual([])
  for (const path of ['run', 'safety', 'briefing', 'floor', 'check-in', 'weigh-in']) {
    await page.goto(`/${path}`)
    await page.locator('h1').waitFor()
    await page
      .getByText(/Signed on|Not signed on|Nobody signed on/)
      .first()
      .waitFor()
  }
  await page.close()
  await journey.startServer()
})
