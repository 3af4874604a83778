import { Parser } from '@asyncapi/parser'
import { expect, test } from 'vitest'
import { DayEvent } from './events.ts'
import { asyncApi } from './published.ts'

/** The standard's own parser: AsyncAPI 3.0.0. */
const parser = new Parser()

test('the published document is AsyncAPI 3 without an error, and names every event of a day', async () => {
  const document = asyncApi()
  const { document: parsed, diagnostics } = await parser.parse(JSON.stringify(document))
  expect(diagnostics.filter(({ severity }) => severity === 0)).toEqual([])
  const names =
    parsed
      ?.messages()
      .all()
      .map((message) => message.name()) ?? []
  for (const event of DayEvent.options) expect(names).toContain(event.shape.type.value)
})

test('a document that is not AsyncAPI is found by the same parser', async () => {
  const { diagnostics } = await parser.parse(JSON.stringify({ ...asyncApi(), channels: { day: { address: 5 } } }))
  expect(diagnostics.filter(({ severity }) => severity === 0)).not.toEqual([])
})
