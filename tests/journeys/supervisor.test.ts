import type { Page } from 'playwright-core'
import type { BoardView } from '@musterbook/day/views/board'
import type { InboxView } from '@musterbook/day/views/inbox'
import type { RecordView } from '@musterbook/day/views/record'
import type { StationView } from '@musterbook/day/views/station'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import { axe, type Device } from './browser.ts'
import { handsOn } from './station-hands.ts'

/** One supervisor's day: cover, corrections, decisions, the seal, and every moment again. */
let journey: Journey
let tomas: Device

beforeAll(async () => {
  journey = await openJourney()
  tomas = await journey.openScreen('Safety', 'tomas', '/supervisor')
})
afterAll(() => journey?.close())

const part = (name: string) => tomas.page.getByRole('group', { name: 'Parts of this screen' }).getByText(name, { exact: true }).click()
const recorded = (page: Page, what: string) => page.locator('.last-told [data-said="recorded"]').filter({ hasText: what }).waitFor()
const refusals = async () => (await journey.view<InboxView>('inbox')).refusals.map(({ act, rule }) => [act, rule])
const cards = { agility: 'Agility run', reach: 'Sit-and-reach' }

const timed = (bib: string, attemptId: string, amount: number, official = true) => ({
  observationId: `${attemptId}.seen`,
  attemptId,
  studentId: journey.studentId(bib),
  stationId: 'agility',
  outcome: 'good',
  value: { amount, unit: 'hundredthsOfSecond', resolution: 10, method: 'hand' },
  folds: [],
  fault: null,
  equipmentIds: ['T-1'],
  keptUnusual: false,
  official,
  photoDigest: null,
  fromPaper: null,
})
const reached = (bib: string, attemptId: string, amount: number) => ({
  ...timed(bib, attemptId, amount),
  stationId: 'reach',
  value: { amount, unit: 'millimetres', resolution: 5, method: 'footLine260mm' },
  equipmentIds: ['R-1'],
})
const start = (bib: string, stationId: string, attemptId: string, official = true) => ({
  attemptId,
  studentId: journey.studentId(bib),
  stationId,
  official,
  load: null,
  equipmentIds: [],
  observerId: null,
  earlyBecause: null,
})
/** One try from the call to the value. */
async function tries(
  device: string,
  person: 'mira' | 'juno',
  bib: string,
  stationId: 'agility' | 'reach',
  id: string,
  amount: number,
  official = true,
) {
  const place = { studentId: journey.studentId(bib), stationId }
  await journey.tell(device, person, 'joinQueue', place)
  await journey.tell(device, person, 'callUp', place)
  await journey.tell(device, person, 'startAttempt', start(bib, stationId, id, official))
  await journey.tell(device, person, 'recordResult', stationId === 'agility' ? timed(bib, id, amount, official) : reached(bib, id, amount))
}

test('two are absent: who is not listed as qualified is refused, a supervisor accepts with a reason, and the day ends sooner for it', async () => {
  const { page } = tomas
  await page.getByRole('region', { name: 'Every student and every station' }).waitFor()
  expect(await axe(page)).toEqual([])
  // Juno has both stations, and nobody here may lift: what is left waits for her.
  for (const stationId of ['skinfold', 'reach'])
    await journey.tell('Office desk', 'ines', 'assignStaff', {
      personId: journey.open.academy.staff.juno.personId,
      stationId,
      acceptedBecause: null,
    })
  await journey.bring(few, 'bib')
  for (const bib of few) await clears(bib, null)
  await journey.tell('Greeter', 'sanne', 'confirmWarmUp', { studentIds: few.map((bib) => journey.studentId(bib)) })
  const ines = await journey.openScreen('Office desk', 'ines', '/supervisor#staff', { width: 1280, height: 800, touch: false })
  await ines.page.getByLabel('Assign somebody to Skinfolds, three sites').selectOption({ label: 'Bo Ekström' })
  await ines.page.getByRole('button', { name: 'Assign: Skinfolds, three sites' }).click()
  await ines.page.getByText('Bo Ekström is not listed as qualified for Skinfolds, three sites.').first().waitFor()
  await ines.page.getByText('A supervisor may accept with a reason.').first().waitFor()
  expect(await ines.page.getByRole('dialog').count()).toBe(0)
  await ines.context.close()

  const ends = async () => {
    await part('What is left')
    const says = await page.getByText(/^Ends about \d\d:\d\d; /).innerText()
    const [, hours, minutes] = /about (\d\d):(\d\d)/.exec(says)!
    return Number(hours) * 60 + Number(minutes)
  }
  await fewMayStartAt('skinfold')
  const before = await ends()
  await part('Staff')
  await page.getByLabel('Assign somebody to Skinfolds, three sites').selectOption({ label: 'Bo Ekström' })
  await page.getByRole('button', { name: 'Assign: Skinfolds, three sites' }).click()
  const asked = page.getByRole('dialog')
  await asked.getByRole('heading', { name: 'Bo Ekström is not listed as qualified for Skinfolds, three sites' }).waitFor()
  expect(await axe(page)).toEqual([])
  await asked.getByRole('button', { name: 'Accept and assign' }).click()
  await asked.getByText('A reason is needed.').waitFor()
  await asked.getByLabel('Why this is acceptable today').fill('Two are absent; Juno stands beside him.')
  await asked.getByRole('button', { name: 'Accept and assign' }).click()
  await recorded(page, 'Bo Ekström assigned to Skinfolds, three sites')
  await page.getByText('accepted with a reason').waitFor()
  await expect.poll(refusals).toContainEqual(['assignStaff', 'notQualified'])
  expect(await axe(page)).toEqual([])
  expect(await ends()).toBeLessThan(before)
})
const few = ['103', '104', '105', '106', '109', '110']
const clears = (bib: string, supersedes: string | null) =>
  journey.tell('Medical 1', 'petra', 'recordClearance', {
    clearanceId: `${supersedes ? 'all' : 'limited'}-${bib}`,
    studentId: journey.studentId(bib),
    status: supersedes ? 'cleared' : 'limited',
    limits: supersedes ? [] : [{ kind: 'noMaximalLift' }],
    supersedes,
  })
/** This page asks for the boards once a minute: it is opened when they have all of them. */
const fewMayStartAt = (stationId: string) =>
  expect
    .poll(async () => {
      const { students } = await journey.view<StationView>('station', stationId)
      return students.filter(({ gates }) => gates.some(({ gate, state }) => gate === 'clearance' && state === 'met')).length
    })
    .toBe(few.length)

test('what is left of the day: when it ends, what it waits for, and a second bench compared before anything is done', async () => {
  const { page } = tomas
  for (const bib of few) await clears(bib, `limited-${bib}`)
  await fewMayStartAt('bench')
  await part('Board')
  await part('What is left')
  await page.getByText(/^Ends about \d\d:\d\d; nine of ten times before \d\d:\d\d$/).waitFor()
  await page.getByText(/The day waits longest for: Bench press/).waitFor()
  await page
    .getByRole('row', { name: /Bench press/ })
    .getByText('7 min, assumed')
    .waitFor()
  expect(await axe(page)).toEqual([])
  const before = (await journey.view<BoardView>('board')).queues
  await page.getByRole('button', { name: 'One place more: Bench press, one repetition' }).click()
  await page.getByText(/^With these places it ends about \d\d:\d\d, \d+ minutes? sooner$/).waitFor()
  expect((await journey.view<BoardView>('board')).queues).toEqual(before)
  await page.getByRole('button', { name: 'As it is' }).click()
})

test('two editors: the later save over a changed record is refused, and what changed is shown', async () => {
  const { page } = tomas
  await journey.bring(['101', '102'])
  await tries('Reach', 'juno', '101', 'reach', 'reach-ada', 380)

  await part('Student record')
  await page.getByLabel('Bib, name or code of the student').fill('101')
  await page.getByRole('button', { name: '#101 Ada Marsh' }).click()
  await page.getByRole('button', { name: `Correct Try 1 at ${cards.reach}` }).click()
  const dialog = page.getByRole('dialog')
  await dialog.getByText('It must be void').click()
  await dialog.getByLabel('Reason').fill('Typed on the wrong card.')
  expect(await axe(page)).toEqual([])

  // Juno puts the same slip right meanwhile.
  await journey.tell('Reach', 'juno', 'correct', {
    correctionId: 'reassign-ada',
    studentId: journey.studentId('101'),
    attemptId: 'reach-ada',
    change: { kind: 'reassign', toStudentId: journey.studentId('102'), newAttemptId: 'reach-adam' },
    reason: 'Saved on the wrong student.',
    seenRevision: (await journey.view<RecordView>('record', journey.studentId('101'))).stations.find(
      ({ stationId }) => stationId === 'reach',
    )!.attempts[0]!.revision,
  })
  await dialog.getByRole('button', { name: 'Record the correction' }).click()
  await dialog.getByRole('alert').getByText('This was changed since you opened it. Review the new version.').waitFor()
  await dialog.getByText('What changed meanwhile: Moved to another student').waitFor()
  expect(await axe(page)).toEqual([])
  await dialog.getByRole('button', { name: 'Review the new version' }).click()
  await dialog.getByRole('button', { name: 'Cancel' }).click()

  const adam = async () =>
    (await journey.view<RecordView>('record', journey.studentId('102'))).stations.find(({ stationId }) => stationId === 'reach')
  await expect.poll(async () => (await adam())?.result.says).toBe('38.0 cm')
  await expect.poll(refusals).toContainEqual(['correct', 'changedSince'])
})

test('practice becomes official by a supervisor’s correction alone, with its reason', async () => {
  const { page } = tomas
  await journey.bring(['116'])
  await tries('Agility', 'mira', '116', 'agility', 'practice-116', 1690, false)
  await journey.tell(
    'Agility',
    'mira',
    'correct',
    {
      correctionId: 'trick',
      studentId: journey.studentId('116'),
      attemptId: 'practice-116',
      change: { kind: 'official', official: true },
      reason: 'It was a good one.',
      seenRevision: 1,
    },
    { expect: 409 },
  )
  await page.getByRole('button', { name: 'Another student' }).click()
  await page.getByLabel('Bib, name or code of the student').fill('116')
  await page.getByRole('button', { name: /^#116 / }).click()
  await page.getByRole('button', { name: `Correct Practice at ${cards.agility}` }).click()
  const dialog = page.getByRole('dialog')
  await dialog.getByText('Practice or official').click()
  await dialog.getByText('It was official').waitFor()
  await dialog.getByLabel('Reason').fill('Armed as practice by mistake; two witnesses.')
  await dialog.getByRole('button', { name: 'Record the correction' }).click()
  await recorded(page, 'Correction recorded: Kind of try changed')
  await page.getByText('Kind of try changed,').waitFor()
  await page.getByRole('region', { name: cards.agility }).first().locator('.record-result').getByText('16.9 s').waitFor()
  await page.getByText('How this came about').click()
  expect(await axe(page)).toEqual([])
})

test('a scale found heavy: its weigh-ins wait, and are decided together with one reason', async () => {
  const { page } = tomas
  const bibs = Array.from({ length: 23 }, (_, at) => String(118 + at))
  await journey.tell('Medical 1', 'petra', 'checkEquipment', {
    equipmentId: 'S-2',
    passed: true,
    reference: grams(40_000),
    read: grams(40_000),
  })
  await journey.bring(bibs, 'cleared')
  for (const bib of bibs)
    await journey.tell('Medical 1', 'petra', 'weigh', {
      studentId: journey.studentId(bib),
      mass: grams(80_000),
      scaleId: 'S-2',
      keptUnusual: false,
    })
  await journey.tell('Medical 1', 'petra', 'checkEquipment', {
    equipmentId: 'S-2',
    passed: false,
    reference: grams(40_000),
    read: grams(41_600),
  })
  const waiting = async () => (await journey.view<InboxView>('inbox')).items.filter(({ because }) => because === 'equipmentOutOfTolerance')
  await expect.poll(async () => (await waiting()).length).toBe(23)

  await part('Inbox')
  await page
    .getByRole('button', { name: /^Decide: The equipment was found out of tolerance afterwards/ })
    .first()
    .click()
  await page.getByText('Same reason: decide together').waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Everybody (23)' }).click()
  await page.getByText('23 of the same kind are ticked').waitFor()
  await page.getByRole('group', { name: 'Decision' }).getByText('Does not count', { exact: true }).click()
  await page.getByLabel('Reason').fill('Scale 1.60 kg heavy: weighed again on S-1.')
  await page.getByRole('button', { name: 'Decide 23 together' }).click()
  await recorded(page, 'Decision recorded for 23')
  await expect.poll(waiting).toEqual([])
})
const grams = (amount: number) => ({ amount, unit: 'grams', resolution: 50, method: 'scale' })

test('the seal says what is in its way: students not accounted for, a decision open', async () => {
  const { page } = tomas
  await tries('Reach', 'juno', '103', 'reach', 'reach-103', 350)
  // A hold over the track while somebody waits at agility: the moment that is stood at later.
  await journey.tell('Agility', 'mira', 'joinQueue', { studentId: journey.studentId('102'), stationId: 'agility' })
  await journey.tell('Track 1', 'wren', 'raiseHold', { holdId: 'hold-named', kind: 'lightning', zoneId: 'track' })
  await journey.tell('Agility', 'mira', 'leaveQueue', { studentId: journey.studentId('102'), stationId: 'agility' })
  await journey.tell('Reach', 'juno', 'disputeReadBack', {
    attemptId: 'reach-adam',
    studentId: journey.studentId('102'),
    observationId: 'reach-ada.seen',
  })

  await part('Sign-off and seal')
  await page.getByText('students are not accounted for').waitFor()
  await page.getByText('1 decision is open').waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Seal the day' }).click()
  await page.getByRole('dialog').getByRole('button', { name: 'Seal the day' }).click()
  await page
    .getByRole('alert')
    .getByText(/students are not accounted for: #/)
    .waitFor()

  for (const name = /^Mark as absent: /; ;) {
    const absent = page.getByRole('button', { name })
    const left = await absent.count()
    if (left === 0) break
    await absent.first().click()
    await expect.poll(() => absent.count()).toBeLessThan(left)
  }
  await page.getByRole('button', { name: /^Sign off \d+ students$/ }).click()
  await page
    .getByRole('dialog')
    .getByRole('button', { name: /^Sign off/ })
    .click()
  await recorded(page, 'signed off')
  const present = async () => (await journey.view<BoardView>('board')).students.filter(({ presence }) => presence === 'present')
  await expect.poll(present).toEqual([])
})

test('after the sign-off of the student Juno cannot move a try alone and hears who can; Tomas can with Ines, and not without her', async () => {
  const reachOf = async (bib: string) =>
    (await journey.view<RecordView>('record', journey.studentId(bib))).stations.find(({ stationId }) => stationId === 'reach')!
  const before = await reachOf('103')
  const juno = handsOn((await journey.openScreen('Reach', 'juno', '/station?station=reach')).page)
  await juno.choose('103')
  await juno.press('Mend Try 1')
  await juno.page.getByLabel('Bib of the right student').fill('104')
  await juno.page.getByLabel('Reason').fill('It was 104 who reached.')
  await juno.press('Move it to #104')
  await juno.sees('The student is signed off.')
  await juno.sees('From here a supervisor corrects, and a second person agrees.')
  await juno.sees('Supervisor')
  await expect.poll(refusals).toContainEqual(['correct', 'afterSignOff'])
  expect(await reachOf('103')).toEqual(before)
  await juno.page.close()

  const { page } = tomas
  await part('Student record')
  await page.getByLabel('Bib, name or code of the student').fill('103')
  await page.getByRole('button', { name: /^#103 / }).click()
  await page.getByRole('button', { name: `Correct Try 1 at ${cards.reach}` }).click()
  const dialog = page.getByRole('dialog')
  await dialog.getByText('The student', { exact: true }).click()
  await dialog.getByLabel('Choose the right student').selectOption(journey.studentId('104'))
  await dialog.getByLabel('Reason').fill('It was 104 who reached; Juno Haas says so.')
  await dialog.getByRole('button', { name: 'Record the correction' }).click()
  await dialog.getByText('This is needed.').waitFor()
  expect(await reachOf('103')).toEqual(before)
  await dialog.getByLabel('Second person').selectOption({ label: 'Ines Varga' })
  await dialog.getByLabel('Their PIN').fill('270511')
  expect(await axe(page)).toEqual([])
  await dialog.getByRole('button', { name: 'Record the correction' }).click()
  await recorded(page, 'Correction recorded: Moved to another student')
  const [from, to] = [await reachOf('103'), await reachOf('104')]
  expect(from.attempts).toMatchObject([{ status: 'reassigned', corrections: [{ kind: 'reassign', countersigned: expect.anything() }] }])
  expect(to).toMatchObject({ result: { amount: 350 }, attempts: [{ number: 1 }] })
  expect(to.attempts[0]!.corrections[0]!.correctionId).toBe(from.attempts[0]!.corrections[0]!.correctionId)
})

test('with a decision open the day is sealed only with a reason; then the digest stands', async () => {
  const { page } = tomas
  await part('Sign-off and seal')
  await page.getByRole('button', { name: 'Seal the day' }).click()
  await page.getByRole('dialog').getByRole('button', { name: 'Seal the day' }).click()
  await page.getByText('1 reviews are open.').waitFor()
  await page.getByLabel('Why it is sealed with decisions open').fill('The read-back is settled with the student tomorrow.')
  await page.getByRole('button', { name: 'Seal the day' }).click()
  await page.getByRole('dialog').getByRole('button', { name: 'Seal the day' }).click()
  await page.getByText(/^Sealed \d\d:\d\d:\d\d at entry \d+$/).waitFor()
  await expect.poll(() => page.locator('.office-digest').textContent()).toMatch(/^[0-9a-f]{64}$/)
  expect(await axe(page)).toEqual([])
})

test('a sealed day is reopened by two different people', async () => {
  const { page } = tomas
  await page.getByLabel('Why it is reopened').fill('The read-back of #102 is to be settled.')
  await page.getByLabel('Second person').selectOption({ label: 'Ines Varga' })
  await page.getByLabel('Their PIN').fill('270512')
  await page.getByRole('button', { name: 'Reopen for corrections' }).click()
  await page.getByRole('alert').getByText('That is not this person’s PIN.').waitFor()
  await page.getByLabel('Their PIN').fill('270511')
  await page.getByRole('button', { name: 'Reopen for corrections' }).click()
  await page.getByText('Reopened for corrections').first().waitFor()
  await recorded(page, 'Day reopened')
})

test('a step back to a named moment: board, queue, gates and hold as they stood, and every entry says itself', async () => {
  const { page } = tomas
  await page.goto('/supervisor')
  await page.getByRole('link', { name: 'Replay from this moment' }).click()
  const slider = page.getByRole('slider', { name: 'Moment in the day' })
  await slider.waitFor()
  const count = Number(await slider.getAttribute('max'))
  expect(count).toBeGreaterThan(150)

  await page.getByLabel('Jump to', { exact: true }).selectOption('holds')
  const moments = page.getByLabel('Moments')
  const held = await moments.locator('option').filter({ hasText: 'Hold raised over Track (lightning)' }).getAttribute('value')
  await moments.selectOption(held)
  await page.getByText('Hold raised over Track (lightning); 0 under way.').first().waitFor()
  await page.getByText('Wren Adeyemi, Track 1').waitFor()
  const then = page.getByRole('region', { name: 'What stood at this moment' })
  // On the board of that moment he waits at agility, and nobody is signed off.
  await then.getByRole('columnheader').first().scrollIntoViewIfNeeded()
  const adam = then.getByRole('row').filter({ hasText: '#102 Adam Marsh' })
  await adam.getByText('Waiting').waitFor()
  expect(await then.getByText('Signed off').count()).toBe(0)
  expect(await axe(page)).toEqual([])

  await then.getByText('Station', { exact: true }).click()
  await then.getByRole('combobox', { name: 'Station', exact: true }).selectOption('agility')
  // What its own screens had shown by then, and how long ago they were heard.
  await then
    .getByText(/: last heard .* before\. Its last act here said that its screen showed version \d+/)
    .first()
    .waitFor()
  await then.getByRole('region', { name: 'Queue as its staff saw it' }).getByText('#102 Adam Marsh').waitFor()
  await then.getByRole('heading', { name: 'Gates of #102 Adam Marsh' }).waitFor()
  await then.getByRole('combobox', { name: 'Station', exact: true }).selectOption('run')
  await then.getByText('Hold in force: Track').waitFor()
  await then.getByLabel('Gates of which student').selectOption({ label: '#102 Adam Marsh' })
  const gate = then.locator('.gate').filter({ hasText: 'No hold over this zone' })
  expect(await gate.getAttribute('data-state')).toBe('notMet')
  expect(await axe(page)).toEqual([])

  await then.getByText('Holds and readings', { exact: true }).click()
  await then.getByText('In force', { exact: true }).waitFor()
  expect(await axe(page)).toEqual([])

  // One entry later he has left the queue.
  await page.getByRole('button', { name: 'Step on' }).click()
  await page
    .getByText(/#102 Adam Marsh left the queue at Agility run\./)
    .first()
    .waitFor()

  await then.getByText('Entries', { exact: true }).click()
  expect(await axe(page)).toEqual([])
  for (let position = 0; position <= count; position += 12) {
    await page.getByLabel('Entry number').fill(String(position))
    await page.getByRole('button', { name: 'Go', exact: true }).click()
    await page.getByText(`Entry ${position} of ${count}`, { exact: false }).first().waitFor()
    const said = await page.locator('.timeline-what').allTextContents()
    expect(said.filter((sentence) => /undefined|null|\[object|^\s*$/.test(sentence) || !/[.!?”]$/.test(sentence.trim()))).toEqual([])
  }
  // A refusal is an answer; the browser's own line about its status is no complaint.
  expect(tomas.complaints.filter((line) => !line.startsWith('Failed to load resource'))).toEqual([])
})
