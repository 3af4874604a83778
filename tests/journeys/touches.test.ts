import { createHash } from 'node:crypto'
import type { RecordView } from '@musterbook/day/views/record'
import type { Locator, Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { firstLoad } from '../bench/first-load.ts'
import { badgeOf, openJourney, tablet, type Journey } from './academy.ts'
import { axe, listensIn, type Device } from './browser.ts'
import { eventually, fireGun, lapKey, reads, runnerOf, safetyOf, toTheTrack } from './run-hands.ts'
import { burst, handsOn, lineUp, nothingBroke, staffAndBrief } from './station-hands.ts'

/** What a gloved hand needs, counted and measured on the reference tablet: touches, and keys of 20 mm with 3 mm between them. */
const key = 118
const gap = 18
const twelve = Array.from({ length: 12 }, (_, i) => String(101 + i))

let journey: Journey
const open: Device[] = []
beforeAll(async () => {
  journey = await openJourney()
  await staffAndBrief(journey)
  await toTheTrack(journey, ...twelve)
  await journey.bring(['120', '121', '122'])
  await reads(journey, 240)
})
afterEach(async () => {
  for (const device of open.splice(0)) {
    nothingBroke(device.complaints)
    await device.context.close()
  }
})
afterAll(() => journey?.close())

async function screen(...how: Parameters<Journey['openScreen']>): Promise<Page> {
  const made = await journey.openScreen(...how)
  open.push(made)
  return made.page
}
const station = async (device: string, person: 'mira' | 'juno' | 'colm', stationId: string) =>
  handsOn(await screen(device, person, `/station?station=${stationId}`))

test('twelve runners under the rehearsal’s banner: a false start is called back in one touch, every key is above the fold, a lap is one touch', async () => {
  const page = await screen('Track 1', 'wren', '/run')
  await page.getByText('Rehearsal: nothing here enters a real record').waitFor()
  await fireGun(page, 12)
  await page.getByRole('button', { name: /^False start: undo the gun/ }).tap()
  await page.getByText('12 of 12 who are ready run').waitFor()
  expect((await safetyOf(journey)).coolingDown).toEqual([])

  await fireGun(page, 12)
  await lapKey(page, '112').waitFor()
  const keys = page.locator('.lap-key')
  expect(await keys.count()).toBe(12)
  await areKeys(page, keys)
  await areKeys(page, page.locator('.frame-keys .button'))
  await page.setViewportSize({ width: 800, height: 1280 })
  const edges = await page.evaluate(() => ({
    lowestKey: Math.max(...[...document.querySelectorAll('.lap-key')].map((one) => one.getBoundingClientRect().bottom)),
    stops: document.querySelector('.frame-keys')!.getBoundingClientRect().top,
  }))
  expect(edges.lowestKey).toBeLessThanOrEqual(edges.stops)
  await page.setViewportSize(tablet)
  await lapKey(page, '105').tap()
  await eventually(async () => (await runnerOf(journey, '105')).crossings.length === 1)
  await page.getByRole('button', { name: 'Stop a student', exact: true }).tap()
  await areKeys(page, page.locator('.stop-student'))
})

test('a lift’s outcome is one touch where the load is as proposed, three where it changes; its keys are 20 mm', async () => {
  await lineUp(journey, 'bench', '120', '121')
  const bench = await station('Bench 1', 'colm', 'bench')
  await bench.press('Call up #120')
  await bench.press(/is on the bar: start$/)
  const outcomes = bench.page.locator('.load-outcomes .button')
  await outcomes.first().waitFor()
  await areKeys(bench.page, outcomes)
  bench.count()
  await bench.press('Good lift')
  await bench.saved(/Good lift/)
  expect(bench.touches).toBe(1)
  await bench.press(/^Undo/)
  await bench.sees(/^Undone\. /)
  await bench.press('Leave it void')
  await journey.clock.forward(3 * 60_000)
  await areKeys(bench.page, bench.page.locator('.load-steps .button'))
  bench.count()
  await bench.press('More 2.5 kg')
  await bench.press(/is on the bar: start$/)
  await bench.press('No lift')
  await bench.saved(/No lift/)
  expect(bench.touches).toBe(3)
  // While one rests the other lifts.
  const next = bench.page.locator('.rotation li')
  await next.filter({ hasText: '#120' }).getByText(/^in /).waitFor()
  expect((await next.allInnerTexts()).map((says) => says.slice(0, 4))).toEqual(['#121', '#120'])
})

test('the pad takes keys as fast as they come; a length is five touches with its save; a slip is undone in one, and stays as void', async () => {
  await lineUp(journey, 'agility', '121')
  const agility = await station('Agility', 'mira', 'agility')
  await agility.press('Call up #121')
  await agility.press('Start try 1 of 2')
  await agility.page.locator('.watch-key').waitFor()
  await areKeys(agility.page, agility.page.locator('.watch-key'))
  await areKeys(agility.page, agility.page.locator('.pad-keys .button'))
  // All in one turn of the page: faster than it can draw.
  await agility.page.evaluate(() => {
    for (const digit of ['1', '8', '.', '6', '1'])
      [...document.querySelectorAll<HTMLButtonElement>('.pad-key')]
        .find((one) => one.textContent === digit || (digit === '.' && one.getAttribute('aria-label') === 'Decimal mark'))
        ?.click()
  })
  expect(await agility.page.locator('.pad-value').innerText()).toMatch(/^18\.61/)
  await agility.press('Save')
  await agility.saved('18.61 s')

  await lineUp(journey, 'reach', '121')
  const reach = await station('Reach', 'juno', 'reach')
  await reach.choose('Samir')
  await reach.press('Call up #121')
  await reach.press('Start try 1 of 3')
  reach.count()
  await reach.type('33.5')
  await reach.press('Save')
  await reach.saved('33.5 cm')
  expect(reach.touches).toBe(5)
  await reach.press(/^Undo/)
  await reach.sees(/^Undone\. /)
})

test('a photo of the scale goes with the value by its digest, made small enough; the value is turned to the student, who may say that it is not so', async () => {
  await lineUp(journey, 'reach', '120')
  const reach = await station('Reach', 'juno', 'reach')
  await reach.choose('Aoife')
  await reach.press('Call up #120')
  await reach.press('Start try 1 of 3')
  const picture = await reach.page.screenshot()
  await reach.page.locator('.take-photo-file').setInputFiles({ name: 'box.png', mimeType: 'image/png', buffer: picture })
  await reach.sees('goes with this result')
  await reach.type('31.0')
  await reach.press('Save')
  await reach.saved('31.0 cm')

  await reach.press('Turn to the student')
  const turned = reach.page.locator('.turned')
  await turned.getByText('31.0 cm').waitFor()
  const [turn, size] = await turned.locator('.turned-value').evaluate((value) => {
    const { rotate, fontSize } = { rotate: getComputedStyle(value.parentElement!).rotate, fontSize: getComputedStyle(value).fontSize }
    return [rotate, parseFloat(fontSize)] as const
  })
  expect(turn).toBe('180deg')
  expect(size).toBeGreaterThan(150)
  expect(await axe(reach.page)).toEqual([])
  await turned.getByRole('button', { name: 'Not what I heard' }).click()
  await turned.getByText(/It waits for the supervisor/).waitFor()
  await turned.getByRole('button', { name: 'Back to the station' }).click()

  const record = await journey.view<RecordView>('record', journey.studentId('120'))
  const tried = record.stations.find(({ stationId }) => stationId === 'reach')!.attempts[0]!
  const { photoDigest } = tried.observations[0]!
  expect(tried.openReviews).toContain('readBackDisputed')
  const kept = await reach.page.request.get(`/api/evidence/${photoDigest}`)
  expect(kept.headers()['content-type']).toBe('image/jpeg')
  expect(
    createHash('sha256')
      .update(await kept.body())
      .digest('hex'),
  ).toBe(photoDigest)
  expect((await kept.body()).length).toBeLessThanOrEqual(300_000)
  await reach.page.locator('.try').getByRole('button', { name: 'Photo', exact: true }).click()
  const shown = reach.page.getByAltText(/Picture taken of the display/)
  await expect.poll(() => shown.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(0)
  expect(await axe(reach.page)).toEqual([])
})

test('a scanned bib opens that student, whatever had the focus; a hand on a keyboard opens nobody', async () => {
  const reach = await station('Reach', 'juno', 'reach')
  await reach.sees('At this station')
  await reach.page.getByRole('button', { name: 'Join by bib' }).focus()
  await burst(reach.page, '122', 5)
  await reach.page.locator('.line-place[aria-current]').filter({ hasText: '122' }).waitFor({ state: 'attached' })
  await burst(reach.page, '121', 200)
  expect(await reach.page.locator('.line-place[aria-current]').textContent()).toContain('122')
})

test('a badge read at a locked screen chooses its person, whose PIN is asked; one that is unknown, taken back or of another is told what next', async () => {
  const lost = await badgeOf(journey, 'wren')
  const good = await badgeOf(journey, 'wren')
  const page = await screen('Bench 2', null, '/station?station=bench')
  await page.getByRole('button', { name: 'Read a badge' }).waitFor()
  await burst(page, 'L7-108', 5)
  await page.getByText('No badge of this site has that code.').waitFor()
  await burst(page, lost, 5)
  await page.getByText('That badge was taken back.').waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Mira Delacroix' }).click()
  await page.getByLabel('PIN').fill(good.toLowerCase())
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: journey.open.academy.staff.wren.name }).waitFor()
  await page.getByLabel('PIN').fill(journey.open.academy.staff.wren.pin)
  await page.keyboard.press('Enter')
  await page.getByText(`Signed on: ${journey.open.academy.staff.wren.name}`).waitFor()
})

test('the board shows its last station whole on the reference tablet, under the rehearsal’s banner and with everybody called', async () => {
  const board = await screen('Board', null, '/board')
  const places = Object.entries({ skinfold: '120', agility: '121', reach: '123', bench: '124' })
  await journey.bring(['123', '124'])
  for (const [stationId, bib] of places) {
    await journey.tell('Greeter', 'sanne', 'joinQueue', { studentId: journey.studentId(bib), stationId })
    await journey.tell('Reach', 'juno', 'callUp', { studentId: journey.studentId(bib), stationId })
  }
  for (const [, bib] of places) await board.locator('.board-called').getByText(bib, { exact: true }).waitFor()
  await board.locator('.board-under-way').getByText('112', { exact: true }).waitFor()
  const lowest = await board
    .locator('.board-station')
    .evaluateAll((all) => Math.max(...all.map((one) => one.getBoundingClientRect().bottom)))
  expect(lowest).toBeLessThanOrEqual(800)
})

test('who is under way nowhere is stopped in two touches from any staff screen, and a hold takes two', async () => {
  const reach = await station('Reach', 'juno', 'reach')
  await reach.sees('At this station')
  reach.count()
  await reach.press('Stop a student')
  await reach.press('Stop #122')
  await reach.sees('Student stopped')
  expect(reach.touches).toBe(2)
  await expect.poll(async () => (await safetyOf(journey)).stops.map(({ bib }) => bib)).toContain('122')
  await reach.press('Raise a hold')
  await areKeys(reach.page, reach.page.locator('.hold-kind'))
})

/** Each at least 20 mm both ways, each pair 3 mm apart, all above the fold. */
async function areKeys(page: Page, keys: Locator): Promise<void> {
  await page.evaluate(() => scrollTo(0, 0))
  const { height } = page.viewportSize()!
  const boxes = await keys.evaluateAll((all) =>
    all.map((one) => {
      const { left, right, top, bottom } = one.getBoundingClientRect()
      return { says: one.textContent ?? '', left, right, top, bottom }
    }),
  )
  expect(boxes.length).toBeGreaterThan(0)
  const small = boxes.filter((one) => one.right - one.left < key || one.bottom - one.top < key || one.bottom > height)
  expect(small).toEqual([])
  for (const [i, one] of boxes.entries())
    for (const other of boxes.slice(i + 1)) {
      const apart = Math.max(one.left - other.right, other.left - one.right, one.top - other.bottom, other.top - one.bottom)
      expect([one.says, other.says, apart >= gap - 0.01]).toEqual([one.says, other.says, true])
    }
}

test('a stop is heard and felt; a tablet that nobody touched since it came up says that it is silent, before and at a hold; nothing moves', async () => {
  const page = await screen('Agility', 'mira', '/station?station=agility')
  await page.addInitScript(listensIn)
  await page.reload()
  const heard = () => page.evaluate(() => (globalThis as unknown as { heard: { tones: number; buzzes: number } }).heard)
  const hold = (holdId: string) => journey.tell('Safety', 'rashid', 'raiseHold', { holdId, kind: 'other', zoneId: 'gym' })
  const hear = () => page.getByRole('button', { name: 'I have heard it' }).tap()

  await journey.bring(['130'])
  await lineUp(journey, 'agility', '130')
  const mira = handsOn(page)
  await mira.choose('Marisol')
  await mira.press('Call up #130')
  await mira.press('Start try 1 of 2')
  await page.locator('.watch-key').waitFor()
  await journey.tell('Greeter', 'sanne', 'stopStudent', { studentId: journey.studentId('130'), zoneId: 'gym', reason: 'notSaid' })
  const stop = page.locator('.stop-notice')
  await stop.waitFor()
  await expect.poll(async () => (await heard()).tones).toBeGreaterThanOrEqual(2)
  expect((await heard()).buzzes).toBeGreaterThan(0)
  expect(await moving(page)).toEqual([])
  await stop.getByRole('button', { name: 'Emergency card' }).tap()
  const card = page.getByRole('dialog', { name: 'Emergency card' })
  await card.getByText('North gate').waitFor()
  await card.getByRole('button', { name: 'Close' }).tap()
  await hear()
  await stop.waitFor({ state: 'hidden' })

  // What is evaluated by the test counts as a touch for the browser: until the first real one the page is asked past it.
  const unasked = await page.context().newCDPSession(page)
  const see = async (expression: string) =>
    (await unasked.send('Runtime.evaluate', { expression, returnByValue: true })).result.value as unknown
  const stands = (words: string) =>
    expect.poll(() => see(`document.body.innerText.includes(${JSON.stringify(words)})`), { timeout: 10_000 }).toBe(true)
  const touch = async (selector: string) => {
    const [x, y] = (await see(
      `(({ x, y, width, height }) => [x + width / 2, y + height / 2])(document.querySelector('${selector}').getBoundingClientRect())`,
    )) as [number, number]
    await page.touchscreen.tap(x, y)
  }
  await page.reload()
  await stands('Sound is off on this tablet. Touch to test it.')
  await hold('h-silent')
  await stands('Sound is off on this tablet: this is shown and not heard.')
  expect(await see('heard')).toEqual({ tones: 0, buzzes: 0 })
  await touch('.hold-notice .button')
  await page.locator('.hold-notice').waitFor({ state: 'hidden' })
  await page.getByText(/Sound is off/).waitFor({ state: 'hidden' })

  await hold('h-heard')
  await page.locator('.hold-notice').waitFor()
  expect(await moving(page)).toEqual([])
  await expect.poll(async () => (await heard()).tones).toBeGreaterThanOrEqual(2)
  expect((await heard()).buzzes).toBeGreaterThan(0)
  await hear()

  await page.reload()
  await stands('Sound is off on this tablet. Touch to test it.')
  await touch('.sound-off .button')
  await expect.poll(async () => (await heard()).tones).toBe(2)
  await page.locator('.sound-off').waitFor({ state: 'hidden' })
})

/** With less motion asked for: what of the frame and of a stop that fills the screen would move all the same. */
const moving = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.frame, .frame *, .hold-notice, .hold-notice *')].flatMap((one) => {
      const { animationName, animationDuration, transitionDuration } = getComputedStyle(one)
      const moves = (animationName !== 'none' && animationDuration !== '0s') || transitionDuration.split(', ').some((each) => each !== '0s')
      return moves ? [`${one.tagName} ${one.className}`] : []
    }),
  )

test('the station screen comes in at most 100 kB, fonts apart, and opens without the site', async () => {
  const { ours, holds } = await firstLoad()
  expect(ours).toBeLessThanOrEqual(100)
  expect(holds).toBe(true)
})
