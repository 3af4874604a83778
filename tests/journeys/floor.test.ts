import type { FloorView } from '@musterbook/day/views/board'
import type { InboxView } from '@musterbook/day/views/inbox'
import type { DemoStaff } from '@musterbook/office/demo-academy'
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { handsOn, nothingBroke } from './station-hands.ts'

let journey: Journey
const open: Device[] = []
beforeAll(async () => {
  journey = await openJourney()
})
afterEach(async () => {
  for (const device of open.splice(0)) {
    nothingBroke(device.complaints)
    await device.context.close()
  }
})
afterAll(() => journey?.close())

async function screen(device: string, person: DemoStaff, path: string) {
  const made = await journey.openScreen(device, person, path)
  open.push(made)
  return Object.assign(handsOn(made.page), { clean: async () => expect(await axe(made.page)).toEqual([]) })
}
const onFloor = async (bib: string) =>
  (await journey.view<FloorView>('floor')).students.find(({ studentId }) => studentId === journey.studentId(bib))

test('the greeter knows a student, gives a bib and gives another for a lost one; who is absent is marked', async () => {
  const greeter = await screen('Greeter', 'sanne', '/floor')
  await greeter.sees('40 expected, 0 here, 0 of them late, 0 absent')
  await greeter.clean()
  await greeter.page.getByLabel('Bib or name').fill('dune')
  await greeter.press(/^Open Marek Dune/)
  await greeter.clean()
  await greeter.press('I know this student')
  await greeter.sees('Checked in: Marek Dune')
  for (const bib of ['107', '207']) {
    await greeter.page.getByLabel(bib === '107' ? 'Bib' : 'Another bib', { exact: true }).fill(bib)
    await greeter.press('Give this bib')
    await greeter.sees(`Bib ${bib}: Marek Dune`)
  }
  await greeter.clean()
  await expect.poll(() => onFloor('107')).toMatchObject({ presence: 'present', bib: '207' })

  await greeter.page.getByLabel('Bib or name').fill('dorst')
  await greeter.press(/^Open Hanneke Dorst/)
  await greeter.press('Mark absent')
  await greeter.sees('Absent: Hanneke Dorst')
  await expect.poll(() => onFloor('106')).toMatchObject({ presence: 'absent' })
})

test('a group has warmed up: three touches, however many they are', async () => {
  await journey.bring(['101', '102', '103', '104', '105'], 'cleared')
  const greeter = await screen('Greeter', 'sanne', '/floor')
  await greeter.sees('Arrivals')
  greeter.count()
  await greeter.page.getByText('Warm-up', { exact: true }).click()
  await greeter.press('Select all of this list')
  await greeter.clean()
  await greeter.press(/^Confirm the warm-up of \d+ students/)
  await greeter.sees(/^Warm-up confirmed: \d+ students/)
  expect(greeter.touches + 1).toBe(3)
  await expect.poll(() => onFloor('104')).toMatchObject({ warmUp: 'done' })
  await greeter.sees('Nobody is on this list')
  await greeter.clean()
})

test('a hand scanner opens the wearer and points the stop at them; a bib that nobody wears gets a no and what next', async () => {
  const greeter = await screen('Greeter', 'sanne', '/floor')
  await greeter.sees('Arrivals')
  const scan = async (bib: string) => {
    await greeter.page.keyboard.type(bib)
    await greeter.page.keyboard.press('Enter')
  }
  await scan('107')
  await greeter.sees('Nobody wears 107 today.')
  await greeter.sees('It may be of another day, or given anew since.')
  await scan('207')
  await greeter.page.locator('.floor-desk').getByText('Marek Dune').first().waitFor()
  await greeter.press('Stop a student')
  await scan('207')
  await expect.poll(async () => (await onFloor('107'))?.stopped).toBeTruthy()
})

test('two touches put a student into a queue, and one takes them out; a withdrawal asks no reason', async () => {
  await journey.bring(['108'])
  const greeter = await screen('Greeter', 'sanne', '/floor')
  await greeter.page.getByText('Queues', { exact: true }).click()
  await greeter.press(/^Open Sunniva Pell/)
  await greeter.press('Queue for Agility run')
  await greeter.sees('#108 Sunniva Pell waits at Agility run')
  await expect.poll(() => onFloor('108')).toMatchObject({ queue: ['agility'] })
  await greeter.clean()
  await greeter.press('Leave the queue for Agility run')
  await greeter.sees('#108 Sunniva Pell left the queue at Agility run')
  await greeter.press('Withdraws by choice')
  await greeter.sees('The student’s own choice, and no reason is asked.')
  await greeter.clean()
  await greeter.page.getByRole('dialog').getByRole('button', { name: 'Withdraws by choice' }).click()
  await greeter.sees('Withdrew by choice: #108 Sunniva Pell')
  await expect.poll(() => onFloor('108')).toMatchObject({ presence: 'withdrawn' })
})

test('a supervisor adds a walk-in, who is expected from then on', async () => {
  const tomas = await screen('Safety', 'tomas', '/floor')
  await tomas.press('Walk-in')
  await tomas.clean()
  for (const [label, value] of [
    ['Given name', 'Runa'],
    ['Family name', 'Holmvik'],
    ['Code for the card', 'L7-190'],
    ['Birth date', '2000-02-29'],
  ] as const)
    await tomas.page.getByLabel(label).fill(value)
  await tomas.page.getByText('W', { exact: true }).click()
  await tomas.press('Add to today')
  await tomas.sees('Walk-in: Runa Holmvik')
  await tomas.page.getByLabel('Bib or name').fill('holmvik')
  await tomas.sees(/^Runa Holmvik$/)
  const view = await journey.view<FloorView>('floor')
  expect(view.students.filter(({ walkIn }) => walkIn)).toMatchObject([{ normGroup: { sex: 'W', ageYears: 27 } }])
})

test('a body mass is asked about, read back and gone; a scale that reads heavy puts what it weighed under review', async () => {
  await journey.bring(['117', '118'], 'bib')
  const juno = await screen('Scale and skinfolds', 'juno', '/weigh-in')
  await juno.page.getByText('Scale S-2', { exact: true }).click()
  await juno.sees('Not checked today: unknown')
  await juno.clean()
  await juno.press('Check this scale')
  for (const value of ['40.00', '40.05']) {
    await juno.type(value)
    await juno.press('Continue')
  }
  await juno.sees('0.05 kg off, within 0.10 kg')
  await juno.clean()
  await juno.press('Record: within tolerance')
  await juno.sees(/^Last good check 0/)

  await juno.type('117')
  await juno.press('Find')
  await juno.sees('Callum Strand')
  await juno.type('8.00')
  await juno.press('Save')
  await juno.sees('Outside the usual range of 40.00 kg to 150.00 kg.')
  await juno.clean()
  await juno.press('Type it again')
  await juno.type('80.00')
  await juno.press('Save')
  await juno.sees('Read back to the student alone')
  await juno.sees('80.00')
  await juno.clean()
  await juno.press('The student agrees')
  expect(await juno.page.getByText('80.00').count()).toBe(0)

  await juno.press('Check this scale')
  for (const value of ['40.00', '41.60']) {
    await juno.type(value)
    await juno.press('Continue')
  }
  await juno.sees('1.60 kg off, more than 0.10 kg')
  await juno.sees('1 weigh-in since the last good check goes under review. Nothing is recalculated.')
  await juno.press('Record: out of tolerance, block it')
  await juno.sees('Blocked: the last check was out of tolerance')
  await juno.clean()
  const reviews = async () => (await journey.view<InboxView>('inbox')).items.filter(({ because }) => because === 'equipmentOutOfTolerance')
  await expect.poll(reviews).toMatchObject([{ bib: '117', equipmentId: 'S-2' }])
})

test('a body mass stands in no view that the floor or the kiosk reads', async () => {
  expect(JSON.stringify(await journey.view('floor'))).not.toContain('80000')
  const kiosk = await journey.client('Kiosk')
  expect((await kiosk.get(`/api/days/${journey.open.dayId}/views/weighIn/all`)).status).toBe(403)
})
