import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { RecordView } from '@musterbook/day/views/record'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openJourney, screensBuilt, tablet, type Journey } from './academy.ts'
import type { Device } from './browser.ts'
import { isInstalled, onlyCutOff, unsent } from './offline-hands.ts'
import {
  countsAllTheSame,
  crosses,
  eventually,
  fireGun,
  isSound,
  lapKey,
  milliseconds,
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

const open = async (...bibs: string[]) => {
  journey = await openJourney()
  await toTheTrack(journey, ...bibs)
  await reads(journey, 240)
  track = await journey.openScreen('Track 1', 'wren', '/run')
}
const close = async () => {
  nothingBroke(track.complaints)
  await journey.close()
}

describe('a run of one, from the line to the look-over', () => {
  beforeAll(async () => {
    await open('108')
    await journey.bring(['101'], 'bib')
    await journey.tell('Track 2', 'bo', 'joinQueue', { studentId: journey.studentId('101'), stationId: 'run' })
  })
  afterAll(close)

  test('who may not start stands apart, with what is missing and who resolves it', async () => {
    const { page } = track
    const notReady = page.locator('.run-not-ready')
    await notReady.waitFor()
    expect(await notReady.innerText()).toMatch(/101[\s\S]*No clearance is recorded for #101[\s\S]*Medical screener/)
    expect(await page.getByRole('status').filter({ hasText: '1 of 1 who are ready run' }).count()).toBe(1)
    await isSound(track)
  })

  test('six touches, the last of them the finish: 13:05.4 is 13:06 and in the 60th', async () => {
    const { page } = track
    await fireGun(page, 1)
    for (const elapsed of ['2:10.0', '4:22.0', '6:33.0', '8:44.0', '10:56.0']) await crosses(journey, page, '108', elapsed)
    expect(await lapKey(page, '108').innerText()).toMatch(/1 lap to go/)
    await isSound(track)
    await crosses(journey, page, '108', '13:05.7')
    await page.locator('.runner', { hasText: '108' }).getByText('Finished', { exact: true }).waitFor()
    const runner = await runnerOf(journey, '108')
    expect(runner).toMatchObject({ status: 'finished', laps: 6, lapsToGo: 0 })
    expect(Math.ceil(runner.finishMs! / 1000)).toBe(786)
    // The site's clock was put forward and the tablet's steady one was not: whether the run counts all the same is asked.
    await countsAllTheSame(journey, '108', 'clocksDisagree')
    const { result } = await runResult(journey, '108')
    expect(result).toMatchObject({ says: '13:06', percentile: 60, notes: ['countsByRuling'], state: 'provisional', timing: 'hand' })
    expect(await page.locator('.runner', { hasText: '108' }).innerText()).toMatch(/6 of 6 laps[\s\S]*finish 13:05\.\d/)
    await isSound(track)
  })

  test('nobody leaves the track unaccounted: the look-over is confirmed, and the headcount names who is not seen', async () => {
    const { page } = track
    await page.getByText('Cool-down', { exact: true }).tap()
    await page.getByRole('button', { name: /^Save: 0 of 1 here/ }).tap()
    await page.getByText('Not seen: #108').waitFor()
    await page.locator('.head').tap()
    await page.getByRole('button', { name: /^Save: 1 of 1 here/ }).tap()
    await page.getByText('Nobody expected there was missing.').waitFor()
    await isSound(track)
    await page.getByRole('group', { name: 'Look-over of #108' }).getByRole('button', { name: 'Nothing seen' }).tap()
    await page.getByText('Nobody is waiting for a cool-down').waitFor()
    expect((await safetyOf(journey)).coolingDown).toEqual([])
  })
})

describe('touches that are none of a lap', () => {
  beforeAll(() => open('112', '116'))
  afterAll(close)

  test('two touches 0.4 s apart are one lap: the second stays in sight as ignored under 30 s', async () => {
    const { page } = track
    await fireGun(page, 2)
    await crosses(journey, page, '112', '2:01.0')
    await pause(400)
    await lapKey(page, '112').tap()
    await page.locator('.touch').first().getByText('ignored: under 30 s').waitFor()
    const runner = await runnerOf(journey, '112')
    expect(runner).toMatchObject({ laps: 1, lapsToGo: 5, crossings: [{ ignored: null }, { ignored: 'underMinimumLap' }] })
    expect(await page.locator('.runner', { hasText: '112' }).innerText()).toMatch(/1 of 6 laps[\s\S]*ignored: under 30 s/)
    expect(await lapKey(page, '112').innerText()).toMatch(/5 laps to go/)
    await isSound(track)
  })

  test('a touch on the wrong key is undone in one touch within ten seconds, and leaves its trace', async () => {
    const { page } = track
    await crosses(journey, page, '116', '2:40.0')
    await page.getByRole('button', { name: /^Undo 116/ }).tap()
    await eventually(async () => (await runnerOf(journey, '116')).laps === 0)
    expect(await runnerOf(journey, '116')).toMatchObject({ laps: 0, lapsToGo: 6, crossings: [{ ignored: 'takenBack' }] })
    await page.locator('.runner', { hasText: '116' }).getByText('taken back').waitFor()
    expect(await lapKey(page, '116').innerText()).toMatch(/6 laps to go/)
  })

  test('who is due next is under the thumb', async () => {
    const { page } = track
    await crosses(journey, page, '116', '3:20.0')
    await pause(1_500)
    // 112 crossed at 2:01 and is due at about 4:02; 116 at 3:20 and is due much later.
    expect(await page.locator('.lap-bib').allInnerTexts()).toEqual(['112', '116'])
    await crosses(journey, page, '112', '4:02.0')
    await crosses(journey, page, '112', '6:03.0')
    await pause(1_500)
    expect(await page.locator('.lap-bib').allInnerTexts()).toEqual(['116', '112'])
  })

  test('did not finish, with a reason of the protocol: the cool-down is due all the same', async () => {
    const { page } = track
    await page.getByRole('button', { name: 'More about #116' }).tap()
    await isSound(track)
    await page.getByRole('button', { name: 'Did not finish' }).tap()
    await page.getByRole('button', { name: 'Left the track' }).tap()
    await page.locator('.runner', { hasText: '116' }).getByText('Not finished').waitFor()
    expect((await runResult(journey, '116')).result).toMatchObject({ percentile: null, because: 'leftTheTrack' })
    expect((await safetyOf(journey)).coolingDown.map(({ bib }) => bib)).toEqual(['116'])
  })
})

describe('a missed crossing', () => {
  beforeAll(() => open('113'))
  afterAll(close)

  test('is asked about quietly, with the interval and the runner’s own pace', async () => {
    const { page } = track
    await fireGun(page, 1)
    for (const elapsed of ['1:58.0', '3:59.0', '8:04.0']) await crosses(journey, page, '113', elapsed)
    await page.getByText('#113: possible missed crossing (interval 4:05, own pace about 2:00)').waitFor()
    await isSound(track)
  })

  test('withholds the result at the line: five laps', async () => {
    const { page } = track
    await crosses(journey, page, '113', '10:06.0')
    // The laps say two to go: the runner is done, and the scorer says so.
    const { gunAt } = await waveOf(journey, '113')
    await page.getByRole('button', { name: 'More about #113' }).tap()
    await until(journey, gunAt + 728_300)
    await page.getByRole('button', { name: /^Finished/ }).tap()
    await page.locator('.runner', { hasText: '113' }).getByText('Result withheld: laps missing').waitFor()
    expect(await runnerOf(journey, '113')).toMatchObject({ status: 'withheld', laps: 5 })
    expect((await runResult(journey, '113')).result).toMatchObject({ state: 'underReview', amount: null, percentile: null })
    await page.getByText(/#113 crossed the line for good with 5 of 6 laps/).waitFor()
    await isSound(track)
  })

  test('is put in near 6:02 with Bo as witness: six laps, 12:09, the 50th, labelled one lap inferred', async () => {
    const { page } = track
    await page.locator('.run-question').first().getByRole('button', { name: 'Put in a lap' }).tap()
    await page.getByLabel('Who saw the crossing').selectOption({ label: 'Bo Ekström' })
    await page.getByRole('button', { name: 'Remove last' }).tap()
    await page.getByRole('button', { name: 'Remove last' }).tap()
    await page.getByRole('button', { name: 'Remove last' }).tap()
    for (const digit of '602') await page.getByRole('button', { name: digit, exact: true }).tap()
    await isSound(track)
    await page.getByRole('button', { name: 'Put it in' }).tap()
    await page.locator('.runner', { hasText: '113' }).getByText('one lap inferred').waitFor()
    expect(await runnerOf(journey, '113')).toMatchObject({ status: 'finished', laps: 6 })
    await countsAllTheSame(journey, '113', 'clocksDisagree')
    const { result } = await runResult(journey, '113')
    expect(result).toMatchObject({ says: '12:09', percentile: 50, notes: ['oneLapInferred', 'countsByRuling'], state: 'provisional' })
    expect(await page.locator('.run-question').count()).toBe(0)
    await isSound(track)
  })
})

describe('a tablet that is reloaded and switched off in mid-wave, out of contact', () => {
  let folder: string
  let screens: string
  let ahead = 0
  let gunAt: number | undefined
  const runners = ['112', '116']
  const onTheTrack = async () => {
    const opened = await journey.openScreen('Track 1', 'wren', '/icons/icon.svg', { ...tablet, installed: true, folder })
    await opened.context.clock.install({ time: Date.now() + ahead })
    return opened
  }
  const passesTo = async (elapsed: string) => {
    gunAt ??= (await waveOf(journey, '112')).gunAt
    const ms = gunAt + milliseconds(elapsed) - journey.clock.now()
    ahead += ms
    await track.page.clock.fastForward(ms)
    await journey.clock.forward(ms)
  }
  const touches = async (elapsed: string, toGo: RegExp) => {
    await passesTo(elapsed)
    for (const bib of runners) {
      await lapKey(track.page, bib).tap()
      await lapKey(track.page, bib).getByText(toGo).waitFor()
    }
  }
  /** The site has a newer app, whose track page says which it is; this tablet has fetched it. */
  const newVersionComes = async () => {
    const worker = join(screens, 'service-worker.js')
    const page = join(screens, 'run.html')
    const written = readFileSync(worker, 'utf8')
    const newer = written.replace(/(url:`\/run`,revision:`)[0-9a-f]{16}/, '$1ffffffffffffffff')
    expect(newer).not.toBe(written)
    writeFileSync(page, readFileSync(page, 'utf8').replace('<head>', '<head><meta name="newer-app" content="yes">'))
    writeFileSync(worker, newer)
    await journey.stopServer()
    await journey.startServer()
    await listens(track.page)
    await track.page.evaluate(async () => void (await (await navigator.serviceWorker.getRegistration())?.update()))
  }
  const listens = (page: Page) =>
    page.evaluate(() => {
      const told: unknown[] = []
      Object.assign(window, { told })
      const { postMessage } = ServiceWorker.prototype
      ServiceWorker.prototype.postMessage = function (this: ServiceWorker, ...message: unknown[]) {
        told.push(message[0])
        return (postMessage as (...message: unknown[]) => void).apply(this, message)
      }
    })
  /** What this page has told a worker: a browser lets the waiting one in once the other has nothing left to do. */
  const asked = (page = track.page) => page.evaluate(() => (window as unknown as { told?: unknown[] }).told ?? []).catch(() => ['takeOver'])
  const isNewer = async () => (await track.page.locator('meta[name=newer-app]').count()) === 1
  const isLocked = async () => {
    journey.leaveAlone()
    await track.page.evaluate(() => dispatchEvent(new Event('online')))
    await track.page.getByRole('heading', { name: 'Who is working here?' }).waitFor()
  }
  const signsOn = async (name: string, pin: string) => {
    await track.page.getByText(/Choose your name, then your PIN/).waitFor()
    await track.page.getByRole('button', { name, exact: true }).tap()
    await track.page.getByLabel('PIN').fill(pin)
    await track.page.locator('form').getByRole('button', { name: 'Sign on' }).tap()
    await track.page.getByText(`Signed on: ${name}`).waitFor()
  }
  /** Who came to this tablet and how who was there before left, as the access record has it. */
  const handovers = async () => {
    const { body } = await (await journey.client('Track 1')).get('/api/session')
    const { deviceId } = body['device'] as { deviceId: string }
    const told: string[] = []
    for await (const entry of journey.open.house.ledger.read(`access/${journey.open.academy.siteId}`, 0))
      for (const event of entry.events as unknown as { type: string; deviceId?: string; personId?: string; because?: string }[])
        if (event.deviceId === deviceId && event.type.startsWith('signed'))
          told.push([event.type, nameOf(event.personId), event.because].filter(Boolean).join(' '))
    return told
  }
  const nameOf = (personId: string | undefined) =>
    Object.entries(journey.open.academy.staff).find(([, one]) => one.personId === personId)?.[0] ?? 'nobody'
  /** The large clock says the same as the site's own does. */
  const sameClock = async () => {
    const says = await track.page.locator('.wave-elapsed').innerText()
    const shown = milliseconds(says.includes(':') ? says : `0:${says}`)
    const { gunAt } = await waveOf(journey, '112')
    expect(Math.abs(shown - (journey.clock.now() - gunAt))).toBeLessThan(2_000)
  }

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'musterbook-tablet-'))
    screens = mkdtempSync(join(tmpdir(), 'musterbook-screens-'))
    cpSync(await screensBuilt(), screens, { recursive: true })
    journey = await openJourney({ screens, lockAfterMs: 5 * 60_000 })
    await toTheTrack(journey, ...runners)
    await reads(journey, 240)
    track = await onTheTrack()
    await track.page.goto('/run')
    await isInstalled(journey, track.page)
  })
  afterAll(async () => {
    onlyCutOff(track.complaints)
    await track.context.close()
    for (const made of [folder, screens]) rmSync(made, { recursive: true, force: true })
    await journey.close()
  })

  test('left alone the screen locks after the policy’s minutes; its clock goes on, and a stop still works, under nobody’s name', async () => {
    await journey.bring(['131'], 'bib')
    await fireGun(track.page, runners.length)
    await isLocked()
    await sameClock()
    await track.page.getByRole('region', { name: 'Under way here' }).getByText('#112').waitFor()
    expect(await track.page.locator('.lap-key').count()).toBe(0)
    await isSound(track)
    await track.page.getByRole('button', { name: 'Stop a student', exact: true }).tap()
    await track.page.getByRole('dialog').getByRole('button', { name: /#131/ }).tap()
    await eventually(async () => (await safetyOf(journey)).stops.some(({ bib, personId }) => bib === '131' && personId === null))
  })

  test('another person takes over by PIN: the touches bear their name, and the record says who came and how the one before left', async () => {
    const { bo, wren } = journey.open.academy.staff
    await signsOn(bo.name, bo.pin)
    await touches('2:01.0', /5 laps to go/)
    await unsent(track.page, 'Nothing unsent')
    const authors = async () => {
      const told: string[] = []
      for await (const entry of journey.open.house.ledger.read(`day/${journey.open.dayId}`, 0))
        if (entry.events.some(({ type }) => type === 'crossingRecorded')) told.push(nameOf(entry.meta.personId ?? undefined))
      return told
    }
    // Nothing is unsent before the touch is kept, too: waited for is the record.
    await expect.poll(authors).toEqual(['bo', 'bo'])
    await track.page.getByRole('button', { name: 'Sign off' }).tap()
    await signsOn(wren.name, wren.pin)
    await eventually(async () => (await handovers()).at(-1) === 'signedOn wren')
    expect((await handovers()).slice(-4)).toEqual(['signedOff wren locked', 'signedOn bo', 'signedOff bo asked', 'signedOn wren'])
  })

  test('reloaded out of contact, it shows the same clock and the same laps, and the next touch is the next lap', async () => {
    await isInstalled(journey, track.page)
    await track.context.setOffline(true)
    await touches('4:02.0', /4 laps to go/)
    await unsent(track.page, '2 unsent')
    await track.page.reload()
    await lapKey(track.page, '112').getByText('4 laps to go').waitFor()
    await sameClock()
    await touches('6:03.0', /3 laps to go/)
    await unsent(track.page, '4 unsent')
  })

  test('its browser closed and opened again, the same', async () => {
    const { complaints } = track
    await track.context.close()
    track = await onTheTrack()
    await track.context.setOffline(true)
    track.complaints.push(...complaints)
    await track.page.goto('/run')
    await lapKey(track.page, '112').getByText('3 laps to go').waitFor()
    await sameClock()
    await unsent(track.page, '4 unsent')
    await touches('8:04.0', /2 laps to go/)
    await track.context.setOffline(false)
    await unsent(track.page, 'Nothing unsent')
  })

  test('a new version is told, and is not asked to take over a running wave, not even while nobody is signed on', async () => {
    const { page } = track
    await newVersionComes()
    await page
      .getByText(/A new version of this screen waits\. It takes over once nobody is signed on here and nothing is under way/)
      .waitFor()
    await isSound(track)
    await page.getByRole('button', { name: 'Sign off' }).tap()
    await page.getByRole('region', { name: 'Under way here' }).getByText('#112').waitFor()
    // Another page of the same tablet, where nothing is under way: it must not ask for the one that shows the wave.
    const other = await track.context.newPage()
    await other.goto('/station')
    await other.getByRole('button', { name: 'Sign on' }).first().waitFor()
    await listens(other)
    // Long after the last hand: the page's own look comes every five seconds.
    await passesTo('9:00.0')
    await pause(5_500)
    expect([await asked(), await asked(other)]).toEqual([[], []])
    await other.close()
    const { wren } = journey.open.academy.staff
    await signsOn(wren.name, wren.pin)
  })

  test('nobody out any more and the tablet left alone, it is asked, out of contact too; what is unsent is still there in the new one', async () => {
    await isInstalled(journey, track.page)
    await journey.stopServer()
    await touches('10:05.0', /1 lap to go/)
    await passesTo('12:04.0')
    for (const bib of runners) await lapKey(track.page, bib).tap()
    await unsent(track.page, '4 unsent')
    expect(await asked()).toEqual([])
    await track.page.clock.fastForward(6 * 60_000)
    await eventually(async () => (await asked()).includes('takeOver') || (await isNewer()), 15_000)
    const { complaints } = track
    await track.context.close()
    ahead += 6 * 60_000
    await journey.startServer()
    track = await onTheTrack()
    await track.context.setOffline(true)
    track.complaints.push(...complaints)
    await track.page.goto('/run')
    await track.page.locator('meta[name=newer-app]').waitFor({ state: 'attached' })
    await unsent(track.page, '4 unsent')
  })

  test('back in contact all six laps are there, and each finish stands without a question: by the wall clock, as the working says', async () => {
    await track.context.setOffline(false)
    await unsent(track.page, 'Nothing unsent')
    for (const bib of runners) {
      const runner = await runnerOf(journey, bib)
      expect(runner).toMatchObject({ status: 'finished', laps: 6 })
      expect(runner.crossings.every(({ ignored }) => ignored === null)).toBe(true)
      const { reviews } = await journey.view<RecordView>('record', journey.studentId(bib))
      expect(reviews).toEqual([])
      const { result } = await runResult(journey, bib)
      // M20–29 of FX-1: 11:40 is the 60th, 12:20 the 50th.
      expect(result).toMatchObject({ says: expect.stringMatching(/^12:0[4-7]$/) as string, state: 'provisional' })
      expect(result.working[0]).toMatchObject({ rule: expect.stringContaining("by the tablet's wall clock") as string })
    }
    expect((await runResult(journey, '112')).result.percentile).toBe(50)
  })
})
