import { describe, expect, test } from 'vitest'
import { Envelope } from '@musterbook/vocabulary/envelope'
import { openApi, understand } from './api.ts'
import { openClock } from './clock.ts'
import { json } from './controls.ts'

function opened(answer: (path: string, init: RequestInit) => Promise<Response>) {
  let sequence = 0
  return openApi({
    clock: openClock({ wall: () => 1_000, steady: () => 10 }),
    nextSequence: () => ++sequence,
    seenVersion: () => 41,
    contactAgeMs: () => 12.4,
    fetch: answer as typeof fetch,
  })
}

describe('an act', () => {
  test('travels in an envelope that the vocabulary takes, to the noun of its day', async () => {
    const sent: { path: string; body: { envelope: unknown; body: unknown } }[] = []
    const api = opened(async (path, init) => {
      sent.push({ path, body: JSON.parse(String(init.body)) })
      return json(201, { recorded: { version: 42 } })
    })
    expect(await api.act('2026-05-11', 'holds', { kind: 'heat' })).toEqual({ said: 'recorded', body: { recorded: { version: 42 } } })
    expect(sent[0]?.path).toBe('/api/days/2026-05-11/holds')
    expect(sent[0]?.body.body).toEqual({ kind: 'heat' })
    expect(Envelope.parse(sent[0]?.body.envelope)).toMatchObject({ deviceSequence: 1, occurredAt: 1_000, seenVersion: 41 })
  })

  test('told twice is told in the same envelope', async () => {
    const ids: string[] = []
    const api = opened(async (_, init) => {
      ids.push(JSON.parse(String(init.body)).envelope.commandId)
      throw new TypeError('no network')
    })
    const envelope = api.stamp()
    expect(await api.act('d', 'holds', {}, envelope)).toEqual({ said: 'noContact' })
    await api.act('d', 'holds', {}, envelope)
    expect(new Set(ids).size).toBe(1)
  })
})

describe('what the site says', () => {
  test('a refusal, with its rule, is no error', async () => {
    const refused = {
      rule: 'holdInForce',
      params: { zone: 'Track', since: '10:35' },
      says: 'A hold is in force.',
      next: 'Wait.',
      who: 'Safety officer',
    }
    const outcome = await understand(json(423, { refused }))
    expect(outcome).toMatchObject({ said: 'refused', refusal: refused })
  })

  test('a refusal in a problem document is read as well', async () => {
    const outcome = await understand(json(409, { type: 'about:blank', status: 409, rule: 'sealed', detail: 'The day is sealed.' }))
    expect(outcome).toMatchObject({ said: 'refused', refusal: { rule: 'sealed', says: 'The day is sealed.' } })
  })

  test.each([
    [401, 'notSignedOn'],
    [403, 'notYours'],
    [404, 'notThere'],
    [409, 'changedSince'],
    [422, 'notUnderstood'],
    [429, 'notUnderstood'],
    [500, 'broken'],
    [503, 'noContact'],
  ])('%i is %s', async (status, said) => {
    expect((await understand(json(status, { title: 'x', status }))).said).toBe(said)
  })

  test('a success that cannot be read is the site’s fault, and nothing is taken for recorded', async () => {
    expect((await understand(new Response('<html>', { status: 200 }))).said).toBe('broken')
    expect((await understand(new Response('', { status: 500 }))).said).toBe('broken')
  })
})
