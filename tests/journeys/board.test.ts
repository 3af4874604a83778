import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, tablet, type Journey } from './academy.ts'
import { axe } from './browser.ts'
import { handsOn, nothingBroke } from './station-hands.ts'

let journey: Journey
beforeAll(async () => {
  journey = await openJourney()
  await journey.bring(['101', '108', '112'])
})
afterAll(() => journey?.close())

const place = (bib: string, stationId: string) => ({ studentId: journey.studentId(bib), stationId })

test('the board calls bibs, shows a hold at once, says nothing of anybody, and brings a person', async () => {
  const { page, complaints } = await journey.openScreen('Board', null, '/board', { width: 1920, height: 1080 })
  const hands = handsOn(page)
  await hands.sees('Nobody is called up')
  expect(await axe(page)).toEqual([])
  for (const bib of ['101', '108', '112']) await journey.tell('Greeter', 'sanne', 'joinQueue', place(bib, 'agility'))
  await journey.tell('Agility', 'mira', 'callUp', place('101', 'agility'))
  const row = page.locator('.board-station').filter({ hasText: 'Agility run' })
  await row.locator('.board-called').getByText('101').waitFor()
  await row.locator('.board-waiting').getByText('112').waitFor()
  const called = await row.locator('.board-called li').first().boundingBox()
  expect(called?.height).toBeGreaterThanOrEqual(80)

  const raised = Date.now()
  await journey.tell('Safety', 'rashid', 'raiseHold', { holdId: 'hold-board', kind: 'heat', zoneId: 'track' })
  await hands.sees('Hold: Track')
  expect(Date.now() - raised).toBeLessThan(2_000)
  expect(await axe(page)).toEqual([])
  // A board on a wall cannot be scrolled: everything is on it, however it hangs.
  for (const size of [{ width: 1920, height: 1080 }, { width: 800, height: 1280 }, tablet]) {
    await page.setViewportSize(size)
    const lowest = await page.evaluate(() =>
      Math.max(...[...document.querySelectorAll('.board-station')].map((one) => one.getBoundingClientRect().bottom)),
    )
    const end = await page.evaluate(() => document.querySelector('.frame-keys')!.getBoundingClientRect().top)
    const room = size.width < size.height ? end : size.height
    expect([size, lowest <= room]).toEqual([size, true])
  }

  const said = await page.content()
  for (const never of ['Marsh', 'Sunniva', 'Cleared', 'clearance', 'Stopped', 'percentile']) expect(said).not.toContain(never)
  await hands.press('Call staff')
  await hands.sees('Staff have been called. Somebody comes to this board.')
  nothingBroke(complaints)
})
