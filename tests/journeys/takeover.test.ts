import { readFileSync } from 'node:fs'
import type { RecordView } from '@musterbook/day/views/record'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { headOf, installed, isInstalled, onlyCutOff, stored, unsent } from './offline-hands.ts'
import { eventually, fireGun, lapKey, reads, runnerOf, toTheTrack, until, waveOf } from './run-hands.ts'

/** Scenario 13A and E14: a track tablet that loses the site, its twin, and what was kept on the first one. */
let journey: Journey
let first: Device
let twin: Device
let desk: Device
let carried: string

beforeAll(async () => {
  journey = await openJourney()
  await toTheTrack(journey, '112')
  await reads(journey, 240)
  first = await installed(journey, 'Track 1', 'wren', '/run')
})
afterAll(async () => {
  for (const device of [first, twin, desk]) if (device) onlyCutOff(device.complaints)
  await journey?.close()
})

test('past the policy’s contact age no wave starts; who gave the word over the radio, and their words, are the only way on', async () => {
  const { page, context } = first
  await page.clock.install()
  await page.reload()
  await page.locator('.run-gun').waitFor()
  await context.setOffline(true)
  await page.clock.fastForward('20:00')
  await journey.clock.forward(20 * 60_000)
  await page.getByText('The hold state cannot be confirmed').first().waitFor()
  expect(await page.locator('.run-gun').count()).toBe(0)
  await page.getByRole('button', { name: 'Record a radio confirmation' }).tap()
  const dialog = page.getByRole('dialog', { name: 'What came over the radio?' })
  await dialog.getByRole('button', { name: 'Record it' }).tap()
  await dialog.getByText('Name who answered the radio.').waitFor()
  expect(await axe(page)).toEqual([])
  await dialog.getByLabel('Who gave the word').selectOption({ label: 'Rashid Benning' })
  await dialog.getByLabel('Their words').fill('No hold in force at the track')
  await dialog.getByRole('button', { name: 'Record it' }).tap()
  await page.getByText(/Word of Rashid Benning over the radio, counts until/).waitFor()
  await fireGun(page, 1)
  expect(await stored(page, 'outbox')).toMatchObject([
    { item: { act: 'confirmByRadio', body: { spokeTo: journey.open.academy.staff.rashid.personId } } },
    { item: { act: 'startWave', envelope: { decidedOnDevice: true } } },
  ])
})

test('back in contact the start stands on the radio’s word and waits for nobody', async () => {
  await first.context.setOffline(false)
  await unsent(first.page, 'Nothing unsent')
  expect(await journey.view<{ items: unknown[] }>('inbox')).toMatchObject({ items: [] })
  expect((await runnerOf(journey, '112')).status).toBe('running')
})

test('a second tablet says where the wave is under way, and carries it on in two touches with the same clock and laps', async () => {
  const { gunAt } = await waveOf(journey, '112')
  await until(journey, gunAt + 120_000)
  await lapKey(first.page, '112').tap()
  await eventually(async () => (await runnerOf(journey, '112')).laps === 1)
  await until(journey, gunAt + 240_000)
  await first.context.setOffline(true)
  await lapKey(first.page, '112').tap()
  await unsent(first.page, '1 unsent')

  twin = await journey.openScreen('Track 2', 'bo', '/run')
  const { page } = twin
  await page.getByRole('heading', { name: 'Wave 1 is under way at Track 1' }).waitFor()
  expect(await axe(page)).toEqual([])
  expect(await page.locator('.lap-key').count()).toBe(0)
  await page.getByRole('button', { name: /^Take it over here/ }).tap()
  await page.getByText(/same gun, .* ± \d/).waitFor()
  await page.getByRole('button', { name: 'Carry it on here' }).tap()
  await lapKey(page, '112').tap()
  await eventually(async () => (await runnerOf(journey, '112')).laps === 2)
  expect(await waveOf(journey, '112')).toMatchObject({ gunAt, carriedBy: { takenOver: true } })
})

test('what the first tablet keeps goes out of it without the site, as codes and as a file', async () => {
  const { page } = first
  await page.goto('/carried')
  await page.getByText('1 act is kept on Track 1 and not in the record.').waitFor()
  await page.getByRole('button', { name: 'Show as codes' }).tap()
  await page.getByRole('img', { name: /^Code 1 of \d/ }).waitFor()
  expect(await axe(page)).toEqual([])
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save as a file' }).tap()])
  carried = readFileSync(await download.path(), 'utf8')
})

test('brought in at the desk it is shown first, then told as that tablet’s own: a second witness, and no second lap', async () => {
  desk = await journey.openScreen('Greeter', 'sanne', '/carried')
  const { page } = desk
  const file = page.locator('input[type=file]')
  await file.setInputFiles({ name: 'bent.json', mimeType: 'application/json', buffer: Buffer.from(carried.replace('lap', 'lop')) })
  await page.getByText('This is not a whole, unchanged file of a tablet.').waitFor()
  await file.setInputFiles({ name: 'track-1.json', mimeType: 'application/json', buffer: Buffer.from(carried) })
  await page.getByText('It holds 1 act of Track 1').waitFor()
  expect((await runnerOf(journey, '112')).crossings).toHaveLength(2)
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Send 1 act to the record' }).tap()
  await page.getByText('in the record', { exact: true }).waitFor()
  const { crossings, laps } = await runnerOf(journey, '112')
  expect([laps, crossings.map(({ ignored }) => ignored)]).toEqual([2, [null, null, 'secondWitness']])
})

test('a tablet says in time that its battery ends, and what to do', async () => {
  const { page } = desk
  expect(await page.getByRole('list', { name: 'About this tablet' }).count()).toBe(0)
  await page.addInitScript(() => {
    const battery = { level: 0.31, charging: false, dischargingTime: 25 * 60 }
    Object.defineProperty(navigator, 'getBattery', { value: () => Promise.resolve(battery) })
  })
  await page.reload()
  await page.getByText('Battery 31 %, about 25 min left. Plug it in or swap the tablet now.').waitFor()
  expect(await axe(page)).toEqual([])
})

test('and when the first tablet comes back after all, nothing doubles', async () => {
  await first.context.setOffline(false)
  await unsent(first.page, 'Nothing unsent')
  expect((await runnerOf(journey, '112')).crossings).toHaveLength(3)
  await first.page.goto('/run')
  await first.page.getByRole('heading', { name: 'Wave 1 is under way at Track 2' }).waitFor()
})

test('a sheet for each station is printed with its number; what was written on one is typed in as what it is', async () => {
  await journey.bring(['108'])
  await journey.tell('Office desk', 'tomas', 'briefClass', {
    briefingId: 'b-1',
    studentIds: [journey.studentId('108')],
    stationIds: ['agility'],
    language: 'en',
  })
  const { page } = twin
  await page.goto(`/sheets/days/${journey.open.dayId}/paper`)
  await page.getByRole('img', { name: 'Sheet 0511-1-1' }).waitFor()
  expect(await page.locator('.paper-sheet').count()).toBeGreaterThanOrEqual(5)
  expect(await page.getByRole('cell', { name: '108', exact: true }).count()).toBeGreaterThanOrEqual(5)
  const printed = await page.locator('.paper-sheet').evaluateAll((sheets) =>
    sheets.map((sheet) => ({
      number: sheet.querySelector('.paper-head strong')!.textContent,
      codes: [...sheet.querySelectorAll('.paper-code')].map((code) => code.textContent),
    })),
  )

  await page.goto('/paper')
  await page.getByLabel('Who wrote the sheet').selectOption({ label: 'Mira Delacroix' })
  for (const { number, codes } of printed.filter((sheet) => sheet.number.endsWith('-1'))) {
    await page.getByLabel('Sheet number').fill(number)
    if (number === '0511-5-1') await page.getByLabel('Wave').selectOption({ index: 1 })
    const typed = async () => (await page.getByLabel('What stands there').locator('option').allInnerTexts()).slice(1)
    await expect.poll(async () => (await typed()).map((says) => says.split(':')[0])).toEqual(codes)
  }
  await page.getByLabel('Sheet number').fill('0511-2-1')
  await page.getByLabel('Who wrote the sheet').selectOption({ label: 'Mira Delacroix' })
  await page.locator('.tab', { hasText: 'Agility' }).tap()
  await page.getByLabel('Student').selectOption({ label: '#108 Sunniva Pell' })
  await page.getByLabel('Time of day as written').fill('about nine')
  await page.getByRole('button', { name: 'Save as transcribed from paper' }).tap()
  await page.getByText('Write it as 9:05 or 9:05:30.').waitFor()
  expect(await axe(page)).toEqual([])
  // Written well after the gates were met: a sheet knows the second and no more.
  await journey.clock.forward(60_000)
  const written = journey.clock.now() - 20_000
  await page.getByLabel('Time of day as written').fill(new Date(written + 2 * 3_600_000).toISOString().slice(11, 19))
  await page.getByLabel(/value as written$/).fill('18.6')
  await page.getByRole('button', { name: 'Save as transcribed from paper' }).tap()
  await page.locator('[data-said="recorded"]').waitFor()
  const agility = async () =>
    (await journey.view<RecordView>('record', journey.studentId('108'))).stations.find(({ stationId }) => stationId === 'agility')!
  await eventually(async () => (await agility()).result.amount !== null)
  expect((await agility()).result).toMatchObject({ says: '18.6 s', notes: ['fromPaper'] })
})

test('and a wave that only paper saw: its gun, then a row of laps', async () => {
  const { page } = twin
  await journey.clock.forward(900_000)
  const gunAt = journey.clock.now() - 800_000
  await page.getByLabel('Sheet number').fill('0511-5-1')
  await page.locator('.tab', { hasText: /run/i }).last().tap()
  await page.getByLabel('Wave').selectOption('')
  await page.getByLabel('Gun, time of day as written').fill(new Date(gunAt + 2 * 3_600_000).toISOString().slice(11, 19))
  await page.getByLabel('Bibs that started').fill('108')
  await page.getByRole('button', { name: 'Save the gun as transcribed' }).tap()
  await page.getByLabel('Student').selectOption({ label: '#108 Sunniva Pell' })
  await page.getByLabel('Times since the gun').fill('2:10 4:22 6:33 8:44 10:56 13:05')
  await page.getByRole('button', { name: 'Save as transcribed from paper' }).tap()
  await eventually(async () => (await runnerOf(journey, '108')).laps === 6)
  const record = await journey.view<RecordView>('record', journey.studentId('108'))
  const run = record.stations.find(({ stationId }) => stationId === 'run')!
  expect(run.attempts.length).toBe(1)
  expect(JSON.stringify(run)).toContain('fromPaper')
})

test('sheets of every kind typed in with the network cut and the page loaded anew: kept as typed, and in the record once, each marked', async () => {
  const stationIds = ['skinfold', 'agility', 'reach', 'bench', 'run']
  await journey.bring(['102'], 'warmedUp', 80_000)
  await journey.tell('Office desk', 'tomas', 'briefClass', {
    briefingId: 'b-2',
    studentIds: [journey.studentId('102')],
    stationIds,
    language: 'en',
  })
  await reads(journey, 240)
  await journey.clock.forward(2_400_000)
  const since = await headOf(journey)
  const { page, context } = first
  await page.goto('/paper')
  await isInstalled(journey, page)
  const at = (minutesAgo: number) => new Date(journey.clock.now() - minutesAgo * 60_000 + 2 * 3_600_000).toISOString().slice(11, 19)
  const fill = async (fields: Record<string, string>) => {
    for (const [label, text] of Object.entries(fields)) await page.getByLabel(label).fill(text)
  }
  const who = () => page.getByLabel('Student').selectOption({ label: '#102 Adam Marsh' })
  const sheet = (number: string) => page.getByLabel('Sheet number').fill(number)
  const save = () => page.getByRole('button', { name: 'Save as transcribed from paper' }).tap()
  let kept = 0
  const isKept = (acts: number) => unsent(page, `${(kept += acts)} unsent`)

  await sheet('0511-1-1')
  await page.getByLabel('Who wrote the sheet').selectOption({ label: 'Mira Delacroix' })
  await context.setOffline(true)
  await page.reload()
  expect(await page.getByLabel('Sheet number').inputValue()).toBe('0511-1-1')
  await page.locator('.take-photo-file').setInputFiles({ name: 'sheet.png', mimeType: 'image/png', buffer: await page.screenshot() })
  await page.getByText('1 photo on this tablet only').waitFor()
  await who()
  await fill({ 'Time of day as written': at(33) })
  const fold = (site: string, n: number) => page.getByRole('group', { name: site }).getByLabel(`Reading ${n}`)
  for (const site of ['Chest', 'Abdomen', 'Thigh']) {
    await fold(site, 1).fill('12')
    await fold(site, 2).fill(site === 'Chest' ? '14.5' : '12.5')
  }
  await page.reload()
  expect(await fold('Chest', 2).inputValue()).toBe('14.5')
  await save()
  await page.getByText('Chest: 2 of 3 readings stand there.').waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Look at the sheet again' }).tap()
  await fold('Chest', 3).fill('12.5')
  await save()
  // The answer to the question is told as well.
  await isKept(3)

  await sheet('0511-2-1')
  await who()
  await fill({ 'Time of day as written': at(30) })
  await page.getByLabel('What stands there').selectOption('F2')
  await save()
  await isKept(2)
  await who()
  await fill({ 'Time of day as written': at(26), 'Agility run: value as written': '81.6' })
  await save()
  await page.getByText('With two digits the other way round it would be 18.60 s.').waitFor()
  await page.getByRole('button', { name: 'So it is written: keep it' }).tap()
  await isKept(3)

  await sheet('0511-4-1')
  for (const [minutesAgo, code, load] of [
    [22, '', '60'],
    [18, 'F', '80'],
  ] as const) {
    await who()
    await fill({ 'Time of day as written': at(minutesAgo), 'Load on the bar, as written': load })
    await page.getByLabel('What stands there').selectOption(code)
    await save()
    await isKept(2)
  }

  await sheet('0511-5-1')
  await page.getByLabel('Wave').selectOption('')
  await fill({ 'Gun, time of day as written': at(15), 'Bibs that started': '102 999' })
  await page.getByRole('button', { name: 'Save the gun as transcribed' }).tap()
  await page.getByText('Nobody here wears 999 today.').waitFor()
  await fill({ 'Bibs that started': '102' })
  await page.getByRole('button', { name: 'Save the gun as transcribed' }).tap()
  await isKept(1)
  await page.reload()
  await who()
  await page.getByLabel('What stands there').selectOption('N1')
  await fill({ 'Times since the gun': '2:10 4:22', 'Time of day when it ended': at(9) })
  await save()
  await isKept(3)

  await context.setOffline(false)
  await unsent(page, 'Nothing unsent')
  const record = await journey.view<RecordView>('record', journey.studentId('102'))
  const triesAt = (stationId: string) => record.stations.find((station) => station.stationId === stationId)!.attempts
  const seen = (stationId: string) =>
    triesAt(stationId).map(({ observations }) => observations.map(({ outcome, fault }) => [outcome, fault]))
  expect(seen('skinfold')).toEqual([[['good', null]]])
  expect(triesAt('skinfold')[0]!.observations[0]!.folds).toHaveLength(7)
  expect(triesAt('skinfold')[0]!.observations[0]!.percentFatHundredths).not.toBeNull()
  expect(seen('agility')).toEqual([[['foul', 'wrongWay']], [['good', null]]])
  expect(triesAt('agility')[1]!.observations[0]!.keptUnusual).toBe(true)
  expect(seen('bench')).toEqual([[['good', null]], [['noLift', null]]])
  expect(triesAt('bench').map(({ load }) => load!.amount)).toEqual([600, 800])
  expect(seen('run')).toEqual([[['didNotFinish', 'stoppedByChoice']]])

  const told = (await journey.open.desk.get(`/api/days/${journey.open.dayId}/entries?after=${since}`)).body['entries'] as {
    meta: { personId: string }
    events: { type: string; fromPaper?: { sheet: string; writerId: string; photoDigest?: string } }[]
  }[]
  const marked = told.flatMap(({ meta, events }) => events.map((event) => ({ ...event, typist: meta.personId })))
  const ofPaper = marked.filter(({ type }) => ['attemptStarted', 'resultRecorded', 'waveStarted', 'crossingRecorded'].includes(type))
  expect(ofPaper).toHaveLength(15)
  const { mira, wren } = journey.open.academy.staff
  for (const { fromPaper, typist: by } of ofPaper) {
    expect(fromPaper).toMatchObject({ sheet: expect.stringMatching(/^0511-[1245]-1$/), writerId: mira.personId })
    expect(by).toBe(wren.personId)
  }
  const { photoDigest } = ofPaper[1]!.fromPaper!
  await eventually(async () => (await context.request.get(`/api/evidence/${photoDigest}`)).ok())
})
