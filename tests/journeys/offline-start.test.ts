import { readFileSync } from 'node:fs'
import type { InboxView } from '@musterbook/day/views/inbox'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { onlyCutOff, ownWay, stored, unsent } from './offline-hands.ts'
import { eventually, fireGun, reads, safetyOf, toTheTrack, waveOf } from './run-hands.ts'
import { handsOn } from './station-hands.ts'

interface Kept {
  act: string
  envelope: { occurredAt: number; offsetMs: number; contactAgeMs: number }
}

const atADesk = { width: 1280, height: 800, touch: false }
let journey: Journey
let wren: Device
let bo: Device
let way: Awaited<ReturnType<typeof ownWay>>
let bosWay: typeof way

beforeAll(async () => {
  journey = await openJourney()
  await toTheTrack(journey, '111', '112')
  await reads(journey, 240)
  way = await ownWay(journey)
  bosWay = await ownWay(journey)
  for (const [device, person] of [
    ['Track 1', 'wren'],
    ['Track 2', 'bo'],
  ] as const) {
    const made = await journey.openScreen(device, person, '/board')
    await made.context.clock.install({ time: Date.now() })
    await made.page.goto(`${(person === 'wren' ? way : bosWay).address}/run`)
    await made.page.getByRole('button', { name: /GUN.*starts 2 runner/ }).waitFor()
    await eventually(async () => (await stored(made.page, 'entries')).length > 0)
    if (person === 'wren') wren = made
    else bo = made
  }
})
// A test that failed leaves nothing cut off for the next.
afterEach(() => way.mend())
afterAll(async () => {
  for (const device of [wren, bo]) onlyCutOff(device.complaints)
  way?.close()
  bosWay?.close()
  await journey?.close()
})

/** Time passes at the site and on the tablets, in contact or not. */
async function passes(minutes: number, seconds: number): Promise<void> {
  const ms = minutes * 60_000 + seconds * 1000
  for (const { page } of [wren, bo]) await page.clock.fastForward(ms)
  await journey.clock.forward(ms)
}

test('a hold raised on a tablet that is cut off stops there at once, goes before what was kept earlier, and no lift is decided out of contact', async () => {
  const { page } = wren
  const safety = await journey.openScreen('Safety', 'rashid', '/board')
  await safety.page.goto(`${way.address}/safety`)
  const holds = safety.page.locator('.tab').filter({ hasText: 'Holds' }).first()
  await holds.waitFor()
  way.cut()
  await wren.context.setOffline(true)
  await page.getByText(/^Out of contact: starts are decided here/).waitFor()
  // Kept before the hold: who signed on here.
  await handsOn(page).press('Sign off')
  await handsOn(page).press(/^Wren/)
  await unsent(page, '1 unsent')

  const raisedFrom = journey.clock.now()
  await handsOn(page).press('Raise a hold')
  await page.getByRole('button', { name: 'Other Track: raise a hold' }).tap()
  const notice = page.getByRole('alertdialog')
  await notice.waitFor()
  const raisedTo = journey.clock.now()
  expect(await notice.innerText()).toMatch(/Stop[\s\S]*Hold in force: Track/)
  expect((await safetyOf(journey)).holds).toEqual([])
  await notice.getByRole('button', { name: 'I have heard it' }).tap()
  await handsOn(page).press(/^Ask the day all the same/)
  await handsOn(page).sees(/A hold is in force in Track since \d\d:\d\d/)
  await handsOn(page).sees('Stop the start. Wait until the safety officer and a second person have lifted it.')
  await handsOn(page).sees(/Said by this tablet, out of contact/)
  await unsent(page, '4 unsent')
  const kept = await stored(page, 'outbox')
  expect(kept.map(({ item }) => nameOf(item))).toEqual(['signOn', 'raiseHold', 'acknowledgeHold', 'answerPrompt'])

  const toldAs: string[] = []
  await page.route('**/api/kept-items', async (route) => {
    toldAs.push(nameOf(route.request().postDataJSON()))
    await route.continue()
  })
  way.mend()
  await wren.context.setOffline(false)
  const there = bo.page.getByRole('alertdialog')
  await there.waitFor({ timeout: 20_000 })
  await unsent(page, 'Nothing unsent')
  await page.unroute('**/api/kept-items')
  expect(toldAs[0]).toBe('raiseHold')
  expect(toldAs.indexOf('signOn')).toBeGreaterThan(toldAs.indexOf('acknowledgeHold'))
  const [hold] = (await safetyOf(journey)).holds
  expect(hold).toMatchObject({ kind: 'other', zoneId: 'track', lifted: null })
  expect(hold!.since).toBeGreaterThanOrEqual(raisedFrom - 1_000)
  expect(hold!.since).toBeLessThanOrEqual(raisedTo + 1_000)
  expect(await there.innerText()).toMatch(/Hold in force: Track[\s\S]*Raised \d\d:\d\d:\d\d by Wren/)
  await there.getByRole('button', { name: 'I have heard it' }).tap()

  // The safety officer's own tablet knows of it, is cut off, and does not lift it.
  const { press, sees } = handsOn(safety.page)
  await safety.page.getByRole('button', { name: 'I have heard it' }).tap()
  await holds.tap()
  way.cut()
  await safety.context.setOffline(true)
  await safety.page.getByText(/^Out of contact: starts are decided here/).waitFor()
  await safety.page.getByLabel('Why it may be lifted').fill('The bees are gone')
  await press('Propose to lift')
  await sees('A device out of contact does not decide this.')
  await sees('Decide it now, on the day as it stands, with the device in contact.')
  expect((await safetyOf(journey)).holds[0]).toMatchObject({ lifted: null, proposal: null })
  expect((await stored(safety.page, 'outbox')).map(({ item }) => nameOf(item))).toEqual(['answerPrompt'])
  onlyCutOff(safety.complaints)
  await safety.context.close()
  way.mend()

  const { holdId } = hold!
  await journey.tell('Safety', 'rashid', 'proposeLift', { holdId, readingId: null, reason: 'The bees are gone' })
  await journey.tell('Office desk', 'tomas', 'confirmLift', { holdId })
  for (const device of [wren, bo]) await device.page.getByRole('button', { name: /GUN.*starts 2 runner/ }).waitFor({ timeout: 20_000 })
})

const nameOf = (item: unknown): string => {
  const { kind, act } = item as { kind: string; act?: string }
  return act ?? kind
}

/** As the screens of the day's place say it. */
const wallClockOf = ({ occurredAt, offsetMs }: Kept['envelope']): string =>
  new Date(occurredAt - offsetMs + 2 * 3_600_000).toISOString().slice(11, 19)

/** Where in the day the last entry with such an event stands. */
async function positionOf(type: string): Promise<number> {
  const heard = await journey.open.desk.get(`/api/days/${journey.open.dayId}/entries?after=0`)
  const entries = heard.body['entries'] as { events: { type: string }[] }[]
  return entries.findLastIndex(({ events }) => events.some((event) => event.type === type)) + 1
}

test('out of contact: four minutes forty after the last word a start is let happen, five minutes ten after it none is; the hold stands on the screen before any backlog is told', async () => {
  for (const { context } of [wren, bo]) await context.setOffline(true)
  for (const one of [way, bosWay]) one.cut()
  await passes(4, 0)
  await journey.tell('Safety', 'rashid', 'raiseHold', { holdId: 'h-13', kind: 'heat', zoneId: 'track' })

  // B: it could not know, and its contact is younger than the policy's five minutes.
  await passes(0, 40)
  await wren.page.getByText(/Heard the site 4:4\d min ago/).waitFor()
  await fireGun(wren.page, 2)
  await unsent(wren.page, '1 unsent')
  await wren.page.locator('[data-said="kept"]').waitFor()

  // A: past the limit nothing starts, and what next is said.
  await passes(0, 30)
  const hands = handsOn(bo.page)
  await hands.press(/^Ask the day all the same/)
  await hands.sees('Hold state cannot be confirmed: no contact for 5 min.')
  await hands.sees('Radio the safety officer and record who answered.')
  await hands.sees(/Said by this tablet, out of contact/)
  const gun = bo.page.getByRole('button', { name: /GUN.*starts 2 runner/ })
  expect(await gun.count()).toBe(0)
  await hands.press(/^Record a radio confirmation/)
  await bo.page.getByLabel('Who gave the word').selectOption({ label: 'Rashid Benning' })
  await bo.page.getByLabel('Their words').fill('No hold in force at the track')
  await hands.press('Record it')
  await hands.sees(/Word of Rashid Benning over the radio, counts until/)
  await gun.waitFor()
  const bosKept = (await stored(bo.page, 'outbox')).map(({ item }) => item as Kept)
  expect(bosKept.map(({ act }) => act)).toEqual(['answerPrompt', 'confirmByRadio'])
  // Five minutes ten, and what the page itself took.
  expect(bosKept[0]!.envelope.contactAgeMs).toBeGreaterThanOrEqual(310_000)
  expect(bosKept[0]!.envelope.contactAgeMs).toBeLessThan(340_000)
  const saidAt = wallClockOf(bosKept[1]!.envelope)

  await passes(0, 55)
  const holdWasShown: boolean[] = []
  await wren.page.route('**/api/kept-items', async (route) => {
    holdWasShown.push(await wren.page.locator('.hold-notice').isVisible())
    await route.continue()
  })
  for (const one of [way, bosWay]) one.mend()
  for (const { context } of [wren, bo]) await context.setOffline(false)
  await wren.page.getByRole('button', { name: 'I have heard it' }).waitFor({ timeout: 20_000 })
  await unsent(wren.page, 'Nothing unsent')
  expect(holdWasShown.length).toBeGreaterThan(0)
  expect(holdWasShown).not.toContain(false)

  await eventually(async () => (await waveOf(journey, '111')).runners.length === 2)
  const { items } = await journey.view<InboxView>('inbox')
  expect(items.filter(({ because }) => because === 'ranUnderHold')).toHaveLength(2)
  expect(JSON.stringify(items)).not.toMatch(/blame|fault|disobey/i)

  // On the supervisor’s screen each run waits for a decision, and nobody is blamed.
  const supervisor = await journey.openScreen('Safety', 'tomas', '/supervisor', atADesk)
  const { page } = supervisor
  await page.locator('.tab', { hasText: 'Inbox' }).click()
  await page.getByRole('heading', { name: 'What waits for a decision' }).waitFor()
  const flagged = 'The run went on under a hold that had not been received'
  for (const bib of ['111', '112']) await page.getByRole('button', { name: new RegExp(`^Decide: ${flagged}, #${bib}`) }).waitFor()
  expect(await page.getByRole('heading', { name: flagged }).count()).toBe(2)
  expect(await page.locator('body').innerText()).not.toMatch(/blame|fault|disobey|disregard|violat|should have|failed to/i)

  // And A’s word over the radio: who, when and what.
  await unsent(bo.page, 'Nothing unsent')
  const at = await positionOf('radioConfirmed')
  await page.goto(`/replay#part=moment&position=${at}`)
  const entry = page.getByRole('region', { name: 'What this entry says' })
  await entry.getByText(/No hold in force at the track/).waitFor()
  expect(await entry.innerText()).toMatch(/Radio confirmation for .*: spoke to Rashid Benning, good until \d\d:\d\d/)
  expect(await entry.innerText()).toContain('Bo Ekström, Track 2')
  expect(await entry.innerText()).toContain(saidAt)
  await supervisor.context.close()

  const heard = async () => (await safetyOf(journey)).holds.find(({ holdId }) => holdId === 'h-13')!.heard.length
  const before = await heard()
  await wren.page.getByRole('button', { name: 'I have heard it' }).click()
  await eventually(async () => (await heard()) > before)
  await unsent(bo.page, 'Nothing unsent')
})

test('a lost tablet is locked after what it alone keeps was said; found again, it tells that, shows nothing more of the day and keeps nothing of it', async () => {
  // It has told what it keeps, goes out of contact, and keeps one thing more than it said.
  const { page } = bo
  await page.getByRole('button', { name: 'I have heard it' }).tap()
  await unsent(page, 'Nothing unsent')
  const devices = await journey.openScreen('Safety', 'tomas', '/supervisor#devices', atADesk)
  const row = devices.page.getByRole('row').filter({ hasText: 'Track 2' })
  await row.getByText('nothing', { exact: true }).waitFor({ timeout: 20_000 })
  bosWay.cut()
  await bo.context.setOffline(true)
  await handsOn(page).press('Stop a student')
  await page.getByRole('dialog').getByRole('button').filter({ hasText: '111' }).first().tap()
  await unsent(page, '1 unsent')

  await row.getByRole('button', { name: 'Lock Track 2' }).click()
  const dialog = devices.page.getByRole('dialog')
  await dialog.getByText(/It said .* ago that everything it kept had been told/).waitFor()
  await dialog.getByRole('button', { name: 'Lock', exact: true }).click()
  await dialog.getByText('Say it in a few words').waitFor()
  await dialog.getByLabel('Why it is locked').fill('Left at the bleachers')
  expect(await axe(devices.page)).toEqual([])
  await dialog.getByRole('button', { name: 'Lock', exact: true }).click()
  await row.getByText(/Locked .*: Left at the bleachers/).waitFor()

  // It hears of its lock, and nothing that it tells gets through.
  await page.evaluate(() => {
    const real = window.fetch
    const cut: typeof fetch = (asked, how) =>
      String(asked).includes('/api/session') ? real(asked, how) : Promise.reject(new TypeError('cut'))
    Object.assign(window, { fetch: cut, mend: () => Object.assign(window, { fetch: real }) })
  })
  bosWay.mend()
  await bo.context.setOffline(false)
  await page.getByText(/This tablet was locked by Tomas Lindqvist at \d\d:\d\d. Give it to the supervisor/).waitFor({ timeout: 30_000 })
  await page.getByText('1 act is kept on Track 2 and not in the record.').waitFor()
  await page.getByRole('button', { name: 'Show as codes' }).tap()
  await page.getByRole('img', { name: /^Code 1 of \d/ }).waitFor()
  expect(await page.locator('body').innerText()).not.toMatch(/11[12]|Ekström|stopStudent/)
  expect(await axe(page)).toEqual([])
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save as a file' }).tap()])
  const stopped = async () => (await safetyOf(journey)).stops.some((one) => one.bib === '111')
  expect(await stopped()).toBe(false)
  const desk = await journey.openScreen('Greeter', 'sanne', '/carried')
  await desk.page
    .locator('input[type=file]')
    .setInputFiles({ name: 'track-2.json', mimeType: 'application/json', buffer: readFileSync(await download.path()) })
  await desk.page.getByRole('button', { name: 'Send 1 act to the record' }).tap()
  await desk.page.getByText('in the record', { exact: true }).waitFor()
  // A stop that had happened is never turned away.
  await eventually(stopped, 20_000)
  await page.evaluate(() => (window as unknown as { mend(): void }).mend())
  await page.getByText('It keeps nothing any more').waitFor({ timeout: 20_000 })
  await eventually(async () => (await stored(page, 'entries')).length + (await stored(page, 'outbox')).length === 0)
  expect(await page.locator('body').innerText()).not.toMatch(/#?11[12]|Ekström/)
  expect(await axe(page)).toEqual([])
  const asked = await page.evaluate(async () => (await fetch(`/api/days/${'x'}/live/safety/all`)).status)
  expect(asked).toBe(403)

  await row.getByRole('button', { name: 'Unlock Track 2' }).click()
  await dialog.getByLabel('Who has it now').fill('Bo has it again')
  await dialog.getByRole('button', { name: 'Unlock', exact: true }).click()
  await page.getByText('Bo Ekström').first().waitFor({ timeout: 30_000 })
  onlyCutOff(devices.complaints)
})

test('past the day’s hours an open page forgets the day, says so and what next, keeps what waits to be told, and has the day again with a PIN', async () => {
  const { page, context } = wren
  way.cut()
  await context.setOffline(true)
  await handsOn(page).press('Stop a student')
  await page.getByRole('dialog').getByRole('button').filter({ hasText: '112' }).first().tap()
  await unsent(page, '1 unsent')
  await page.clock.fastForward(13 * 3_600_000)
  await page.getByText('The hours of the day are over: this tablet has cleared what it knew of it').waitFor()
  await page.getByText(/^1 kept here and not in the record: still here\. Take it to where the site answers/).waitFor()
  await unsent(page, '1 unsent')
  expect(await page.locator('body').innerText()).not.toMatch(/#?11[12]|Wren|Ekström/)
  expect(await stored(page, 'entries')).toEqual([])
  expect(JSON.stringify(await stored(page, 'facts'))).not.toMatch(/Wren|Ekström/)
  expect(await axe(page)).toEqual([])

  way.mend()
  await context.setOffline(false)
  const { name, pin } = journey.open.academy.staff.wren
  await page.getByRole('button', { name, exact: true }).tap()
  await page.getByLabel('PIN').fill(pin)
  await page.locator('form').getByRole('button', { name: 'Sign on' }).tap()
  await page.getByText(/#?112/).first().waitFor()
  await unsent(page, 'Nothing unsent')
  await eventually(async () => (await safetyOf(journey)).stops.some(({ bib }) => bib === '112'))
})
