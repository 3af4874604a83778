import type { RecordView } from '@musterbook/day/views/record'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openJourney, type Journey } from './academy.ts'
import type { Device } from './browser.ts'
import { backInReach, cutOff, installed, onlyCutOff, stored, unsent } from './offline-hands.ts'
import { eventually } from './run-hands.ts'
import { handsOn, lineUp, staffAndBrief, type Hands } from './station-hands.ts'

let journey: Journey
let agility: Device
let hands: Hands

beforeAll(async () => {
  journey = await openJourney()
  await staffAndBrief(journey)
  await journey.bring(['108', '105'])
  await lineUp(journey, 'agility', '108', '105')
  agility = await installed(journey, 'Agility', 'mira', '/station?station=agility')
  hands = handsOn(agility.page)
})
afterAll(async () => {
  onlyCutOff(agility.complaints)
  await journey?.close()
})

test('with no network and no server the station opens from a cold start, with its day, its names and whoever works there', async () => {
  await cutOff(journey, agility)
  await agility.page.close()
  agility.page = await agility.context.newPage()
  hands = handsOn(agility.page)
  await agility.page.goto('/station?station=agility')
  await hands.sees('At this station')
  await hands.sees(/Signed on: Mira Delacroix/)
  await hands.sees('Sunniva Pell')
  await hands.sees(/Out of contact: starts are decided here/)
  await unsent(agility.page, 'Nothing unsent')
})

test('a try is called up, started and recorded there: kept on this tablet, said so, and counted', async () => {
  await hands.press('Call up #108')
  await hands.press('Start try 1 of 2')
  await hands.type('18.61')
  await hands.press('Save')
  await agility.page.locator('.read-back [data-said="kept"]').waitFor()
  await unsent(agility.page, '3 unsent')
  expect(await stored(agility.page, 'outbox')).toMatchObject([
    { item: { act: 'callUp', envelope: { decidedOnDevice: true } } },
    { item: { act: 'startAttempt', envelope: { decidedOnDevice: true } } },
    { item: { act: 'recordResult', by: { signedOn: 'withPin' } } },
  ])
  await hands.sees('1 of 2')
})

test('signing off is refused, with why and what next', async () => {
  await hands.press('Sign off')
  await hands.sees(/3 things here are kept on this tablet alone/)
  await hands.sees(/Bring the tablet into reach/)
})

test('back in reach of a server that has started anew, all of it is in the record, once, under the name of who was there', async () => {
  await backInReach(journey, agility)
  await unsent(agility.page, 'Nothing unsent')
  const record = await journey.view<RecordView>('record', journey.studentId('108'))
  expect(JSON.stringify(record.stations.find(({ stationId }) => stationId === 'agility'))).toContain('1861')
  await hands.sees(/the site asks for your PIN/)
  await eventually(async () => (await stored(agility.page, 'outbox')).length === 0)
})
