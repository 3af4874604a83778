import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openJourney, tablet, type Journey } from './academy.ts'
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
  let ahead = 0
  const onTheTrack = async () => {
    const opened = await journey.openScreen('Track 1', 'wren', '/icons/icon.svg', { ...tablet, installed: true, folder })
    await opened.context.clock.install({ time: Date.now() + ahead })
    return opened
  }
  const passesTo = async (elapsed: string) => {
    const { gunAt } = await waveOf(journey, '112')
    const ms = gunAt + milliseconds(elapsed) - journey.clock.now()
    ahead += ms
    await track.page.clock.fastForward(ms)
    await journey.clock.forward(ms)
  }
  const touches = async (elapsed: string, toGo: RegExp) => {
    await passesTo(elapsed)
    await lapKey(track.page, '112').tap()
    await lapKey(track.page, '112').getByText(toGo).waitFor()
  }
  /** The large clock says the same as the site's own does. */
  const sameClock = async () => {
    const shown = milliseconds(await track.page.locator('.wave-elapsed').innerText())
    const { gunAt } = await waveOf(journey, '112')
    expect(Math.abs(shown - (journey.clock.now() - gunAt))).toBeLessThan(2_000)
  }

  beforeAll(async () => {
    journey = await openJourney()
    folder = mkdtempSync(join(tmpdir(), 'musterbook-tablet-'))
    await toTheTrack(journey, '112')
    await reads(journey, 240)
    track = await onTheTrack()
    await track.page.goto('/run')
    await isInstalled(journey, track.page)
  })
  afterAll(async () => {
    onlyCutOff(track.complaints)
    await track.context.close()
    rmSync(folder, { recursive: true, force: true })
    await journey.close()
  })

  test('reloaded, it shows the same clock and the same laps, and the next touch is the next lap', async () => {
    await fireGun(track.page, 1)
    await touches('2:01.0', /5 laps to go/)
    await unsent(track.page, 'Nothing unsent')
    await track.context.setOffline(true)
    await touches('4:02.0', /4 laps to go/)
    await unsent(track.page, '1 unsent')
    await track.page.reload()
    await lapKey(track.page, '112').getByText('4 laps to go').waitFor()
    await sameClock()
    await touches('6:03.0', /3 laps to go/)
    await unsent(track.page, '2 unsent')
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
    await unsent(track.page, '2 unsent')
    await touches('8:04.0', /2 laps to go/)
    await touches('10:05.0', /1 lap to go/)
    await passesTo('12:04.0')
    await lapKey(track.page, '112').tap()
    await unsent(track.page, '5 unsent')
  })

  test('back in contact all six laps are there, the finish right, and it is asked because no steady clock saw the whole run', async () => {
    await track.context.setOffline(false)
    await unsent(track.page, 'Nothing unsent')
    const runner = await runnerOf(journey, '112')
    expect(runner).toMatchObject({ status: 'finished', laps: 6 })
    expect(runner.crossings.every(({ ignored }) => ignored === null)).toBe(true)
    await countsAllTheSame(journey, '112', 'clocksDisagree')
    // M20–29 of FX-1: 11:40 is the 60th, 12:20 the 50th.
    expect((await runResult(journey, '112')).result).toMatchObject({ says: expect.stringMatching(/^12:0[4-7]$/) as string, percentile: 50 })
  })
})
