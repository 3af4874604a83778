import type { StationView, WaveView } from '@musterbook/day/views/station'
import type { SafetyView } from '@musterbook/day/views/safety'
import type { RecordView } from '@musterbook/day/views/record'
import type { ReadingId, ReviewId } from '@musterbook/vocabulary/ids'
import type { ReviewReason } from '@musterbook/vocabulary/review'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import { axe, type Device } from './browser.ts'
import type { Journey } from './academy.ts'

/** Local clock of the demonstration's day, two hours ahead of UTC. */
export const atClock = (clock: string): number => Date.parse(`2027-05-11T${clock.length === 5 ? `${clock}:00` : clock}+02:00`)

/** Puts the site's clock forward to an instant, a little before it. */
export async function until(journey: Journey, at: number): Promise<void> {
  const left = at - journey.clock.now()
  if (left > 0) await journey.clock.forward(left)
}

/** A settled reading in sun as the meter shows it, told by the safety officer. */
export async function reads(
  journey: Journey,
  wbgtTenths: number,
  more: { settled?: boolean; at?: number; readingId?: string } = {},
): Promise<string> {
  const client = await journey.client('Office desk', 'tomas')
  const readingId = more.readingId ?? `r-${wbgtTenths}-${journey.clock.now()}`
  const heard = await client.post(`/api/sites/${journey.open.academy.siteId}/readings`, {
    envelope: client.stamp(more.at ?? journey.clock.now()),
    body: {
      readingId: readingId as ReadingId,
      siteId: journey.open.academy.siteId,
      zoneId: 'track',
      instrumentId: 'W-1',
      naturalWetBulb: null,
      globe: null,
      dryBulb: null,
      wbgt: { amount: wbgtTenths, unit: 'tenthsDegC', resolution: 1, method: 'instrument' },
      sun: true,
      wetBulbKind: 'natural',
      globeDiameterMm: 150,
      settled: more.settled ?? true,
      confirmed: ['jumpedSinceLastReading'],
    },
  })
  expect(heard.status, JSON.stringify(heard.body)).toBe(201)
  await eventually(async () => (await safetyOf(journey)).readings.some((reading) => reading.readingId === readingId))
  return readingId
}

/** Brings them to the track: everything that a start asks, and in the line of the run. */
export async function toTheTrack(journey: Journey, ...bibs: string[]): Promise<void> {
  await journey.bring(bibs)
  for (const bib of bibs) await joins(journey, bib)
}

export const joins = (journey: Journey, bib: string) =>
  journey.tell('Track 2', 'bo', 'joinQueue', { studentId: journey.studentId(bib), stationId: 'run' })

export async function fireGun(page: Page, runners: number): Promise<void> {
  await page.getByRole('button', { name: new RegExp(`GUN.*starts ${runners} runner`) }).tap()
  await page.locator('.wave-elapsed').waitFor()
}

export const lapKey = (page: Page, bib: string) =>
  page.locator('.lap-key').filter({ has: page.locator('.lap-bib', { hasText: new RegExp(`^${bib}$`) }) })

/** One touch as the runner crosses, so long after the gun; then the site has it. */
export async function crosses(journey: Journey, page: Page, bib: string, elapsed: string): Promise<void> {
  const before = (await runnerOf(journey, bib)).crossings.length
  const { gunAt } = await waveOf(journey, bib)
  await until(journey, gunAt + milliseconds(elapsed) - 600)
  while (journey.clock.now() < gunAt + milliseconds(elapsed) - 250) await pause(20)
  await lapKey(page, bib).tap()
  await eventually(async () => (await runnerOf(journey, bib)).crossings.length > before)
}

export const milliseconds = (time: string): number => {
  const [minutes = '0', seconds = '0'] = time.split(':')
  return Math.round((Number(minutes) * 60 + Number(seconds)) * 1000)
}

export async function waveOf(journey: Journey, bib: string): Promise<WaveView> {
  const { waves } = await journey.view<StationView>('station', 'run')
  const wave = waves.findLast((one) => one.runners.some((runner) => runner.bib === bib))
  if (!wave) throw new Error(`#${bib} is in no wave`)
  return wave
}

export async function runnerOf(journey: Journey, bib: string): Promise<WaveView['runners'][number]> {
  return (await waveOf(journey, bib)).runners.find((runner) => runner.bib === bib)!
}

/** The supervisor rules that the run counts although this was asked of it. */
export async function countsAllTheSame(journey: Journey, bib: string, because: ReviewReason): Promise<void> {
  const { reviews } = await journey.view<RecordView>('record', journey.studentId(bib))
  const review = reviews.find((one) => one.because === because && one.ruling === null)
  expect(review, `no review ${because} of #${bib}`).toBeDefined()
  await journey.tell('Office desk', 'tomas', 'rule', { reviewId: review!.reviewId as ReviewId, ruling: 'counts', reason: 'Times agree' })
}

export const safetyOf = (journey: Journey): Promise<SafetyView> => journey.view<SafetyView>('safety')

export async function runResult(journey: Journey, bib: string) {
  const record = await journey.view<RecordView>('record', journey.studentId(bib))
  return record.stations.find((station) => station.stationId === 'run')!
}

export async function eventually(holds: () => Promise<boolean>, withinMs = 5_000): Promise<void> {
  const until = performance.now() + withinMs
  while (!(await holds())) {
    if (performance.now() > until) throw new Error(`not within ${withinMs} ms: ${holds}`)
    await pause(50)
  }
}

export const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds))

/** axe finds nothing, nothing is cut off at the side, nothing claims what no screen may claim, nothing complains. */
export async function isSound(device: Device): Promise<void> {
  expect(await axe(device.page)).toEqual([])
  expect(await device.page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)).toBeLessThanOrEqual(
    0,
  )
  expect(await device.page.locator('body').innerText()).not.toMatch(/\bsafe\b|all clear|clear to run|\bfit\b|green to go/i)
}
