import { neverSay } from '../../kiosk/src/words/never-say.ts'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { RecordView } from '@musterbook/day/views/record'
import type { Page } from 'playwright-core'
import { axe } from './browser.ts'
import { badgeOf, openJourney, type Journey } from './academy.ts'

/** Sunniva's indoor stations of the clean day: bench 45.0 of 62.40 kg, agility 18.93 and 18.61, reach 31.0, 33.5, 33.0. */
let journey: Journey
let page: Page
beforeAll(async () => {
  journey = await openJourney()
  await journey.bring(['108', '102'], 'warmedUp', 62_400)
  await tries(
    'agility',
    'Agility',
    'mira',
    [1893, 1861].map((amount) => ({ amount, unit: 'hundredthsOfSecond', resolution: 1, method: 'hand' })),
    190_000,
  )
  await tries(
    'reach',
    'Reach',
    'juno',
    [310, 335, 330].map((amount) => ({ amount, unit: 'millimetres', resolution: 5, method: 'footLine260mm' })),
    0,
  )
  const load = { amount: 450, unit: 'tenthsKg', resolution: 25, method: 'barAndPlates' }
  await tries('bench', 'Bench 1', 'colm', [load], 0, load)
  page = (await journey.openScreen('Safety', 'tomas', '/supervisor')).page
}, 120_000)
afterAll(() => journey?.close())

async function tries(
  stationId: string,
  device: string,
  person: 'mira' | 'juno' | 'colm',
  values: readonly object[],
  rest: number,
  load: object | null = null,
) {
  const studentId = journey.studentId('108')
  for (const [index, value] of values.entries()) {
    const attemptId = `${stationId}-${index + 1}`
    await journey.tell(device, person, 'startAttempt', {
      attemptId,
      studentId,
      stationId,
      official: true,
      load,
      equipmentIds: [],
      observerId: null,
      earlyBecause: null,
    })
    await journey.tell(device, person, 'recordResult', {
      observationId: `seen-${attemptId}`,
      attemptId,
      studentId,
      stationId,
      outcome: 'good',
      value,
      folds: [],
      fault: null,
      equipmentIds: [],
      keptUnusual: false,
      official: true,
      photoDigest: null,
      fromPaper: null,
    })
    if (rest) await journey.clock.forward(rest)
  }
}

const sheet = (path: string, paper: 'A4' | 'Letter') =>
  `${journey.open.house.address}/sheets/days/${journey.open.dayId}/${path}?paper=${paper}`

test('a result sheet shows the record’s own numbers, in words, with how each was got', async () => {
  const record = await journey.view<RecordView>('record', journey.studentId('108'))
  await page.goto(sheet(`students/${journey.studentId('108')}`, 'A4'))
  const said = await page.locator('main').innerText()
  for (const { result } of record.stations.filter((station) => station.result.says)) {
    expect(said).toContain(result.says)
    expect(said).toContain(result.placing)
  }
  for (const figure of ['72 %', '70th', '18.7 s', '60th', '33.5 cm', '50th', '62.400 kg', '18.61 s']) expect(said).toContain(figure)
  expect(said).toContain('up to the next 0.1 s')
  expect(said).toContain('Where to train first')
  expect(said).toMatch(/invented/)
  expect(said).not.toMatch(/hundredthsOfSecond|tenthsKg|millimetres|grams/)
  expect(await axe(page)).toEqual([])
})

test.each([
  ['es', 'ltr', ['Resultados', '18,7 s', '62,400 kg', 'válido', 'cronometrado a mano']],
  ['ar', 'rtl', ['النتائج', '18.7 s', '62.400 kg', 'صحيحة', 'توقيت باليد']],
] as const)('a result sheet in %s says the same numbers, and nothing that is not ours to say', async (language, direction, says) => {
  await page.goto(`${sheet(`students/${journey.studentId('108')}`, 'A4')}&language=${language}`)
  const said = await page.locator('main').innerText()
  for (const one of says) expect(said).toContain(one)
  expect(await page.evaluate(() => [document.documentElement.lang, document.documentElement.dir])).toEqual([language, direction])
  expect(neverSay[language].filter((claim) => claim.test(said))).toEqual([])
  expect(said).not.toMatch(/not tried|provisional;|under review|hand timed/)
  expect(await axe(page)).toEqual([])
})

test('result, class and day sheets are tagged pages of A4 and of Letter', async () => {
  for (const path of [`students/${journey.studentId('108')}`, `classes/${journey.open.academy.classId}`, 'day']) {
    for (const [paper, width] of [
      ['A4', 595],
      ['Letter', 612],
    ] as const) {
      await page.goto(sheet(path, paper))
      const pdf = (await page.pdf({ preferCSSPageSize: true, tagged: true, printBackground: true })).toString('latin1')
      const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)/g)].map((box) => Math.round(Number(box[1])))
      expect(boxes.length, path).toBeGreaterThan(0)
      expect(boxes.length, path).toBeLessThan(3)
      expect(await page.locator('footer').innerText()).toContain('Skarnvale Mountain Rescue Academy (invented), 2027-05-11')
      expect(new Set(boxes), path).toEqual(new Set([width]))
      expect(pdf).toContain('/StructTreeRoot')
    }
  }
})

test.each([
  ['A4', 595],
  ['Letter', 612],
] as const)('bibs on %s: two a page to cut, a code of the number alone, nobody’s name', async (paper, width) => {
  await page.goto(`${sheet('bibs', paper)}&from=101&to=104`)
  expect(await page.locator('.number').allInnerTexts()).toEqual(['101', '102', '103', '104'])
  expect(await page.locator('main').innerText()).not.toMatch(/Sunniva|Pell|Marsh/)
  expect(await axe(page)).toEqual([])
  const pdf = (await page.pdf({ preferCSSPageSize: true, tagged: true })).toString('latin1')
  const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)/g)].map((box) => Math.round(Number(box[1])))
  expect(boxes).toEqual([width, width])
})

test.each([
  ['A4', 595],
  ['Letter', 612],
] as const)('badges on %s: eight a page with name, what they are here and a code, and that they prove nobody', async (paper, width) => {
  const address = `${journey.open.house.address}/sheets/badges?paper=${paper}`
  if (paper === 'A4') expect((await page.goto(address))?.status()).toBe(404)
  for (const person of ['ines', 'tomas', 'petra', 'rashid', 'mira', 'juno', 'colm', 'wren', 'bo'] as const) await badgeOf(journey, person)
  await page.goto(address)
  expect(await page.locator('.badge').count()).toBe(9)
  expect(await page.locator('.badge').filter({ hasText: 'Petra Holm' }).innerText()).toMatch(/Medical screener[^]*B[0-9]{7}/)
  expect(await page.locator('main').innerText()).toContain('It is no secret and proves nobody: the PIN is asked all the same.')
  expect(await axe(page)).toEqual([])
  const pdf = (await page.pdf({ preferCSSPageSize: true, tagged: true })).toString('latin1')
  const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)/g)].map((box) => Math.round(Number(box[1])))
  expect(boxes).toEqual([width, width])
})

test.each([
  ['A4', 595],
  ['Letter', 612],
] as const)('the emergency card is one page of %s, with who wrote it and when', async (paper, width) => {
  await page.goto(`/sheets/emergency-card?paper=${paper}`)
  const said = await page.locator('main').innerText()
  expect(said).toMatch(/Written by Petra Holm.*, 2027-04-20/)
  expect(said).toMatch(/Edition 1, adopted by Ines Varga and Tomas Lindqvist, 2027-05-11/)
  expect(await axe(page)).toEqual([])
  const pdf = (await page.pdf({ preferCSSPageSize: true, tagged: true })).toString('latin1')
  expect([...pdf.matchAll(/\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)/g)].map((box) => Math.round(Number(box[1])))).toEqual([width])
})

test('what cannot be printed as bibs is said, with what to ask instead', async () => {
  const answer = await page.goto(`${sheet('bibs', 'A4')}&from=140&to=101`)
  expect(answer?.status()).toBe(422)
  expect(await answer?.text()).toContain('the lower number first')
})
