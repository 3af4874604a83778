import { DayEvent, type DayEventOf } from '@musterbook/vocabulary/events'
import type { Language } from '@musterbook/vocabulary/people'
import { expect, test } from 'vitest'
import { z } from 'zod'
import { tellingAr } from './ar/telling.ts'
import type { Named, Telling } from './en/sentences.ts'
import { tellingEn } from './en/telling.ts'
import { tellingEs } from './es/telling.ts'
import { neverSay } from './never-say.ts'

const tellings: Record<Language, Telling> = { en: tellingEn, es: tellingEs, ar: tellingAr }

/** So many kinds of each event that every word of a list of eleven is said at least once. */
const kindsOfEach = 24
const examples = DayEvent.options.flatMap((option) => {
  const schema = z.toJSONSchema(option, { io: 'input', unrepresentable: 'any' }) as Schema
  return Array.from({ length: kindsOfEach }, (_, kind) => exampleOf(schema, kind) as DayEventOf<DayEvent['type']>)
})

/** Whatever is put in carries no letters: what letters are left are the language's own. */
const name = '‹1›'
const namedIn = ({ theHold, aTry, because, refusal }: Telling): Named => ({
  student: () => name,
  person: () => name,
  device: () => name,
  station: () => name,
  zone: () => name,
  hold: () => theHold('heat', name),
  attempt: () => aTry(2, name),
  review: () => because('readingsDiffer'),
  because,
  value: () => name,
  clock: () => name,
  duration: () => name,
  refusal: () => refusal('holdInForce', { zone: '2', clock: '3', since: '4' }),
})

const said = (language: Language): string[] => {
  const telling = tellings[language]
  const named = namedIn(telling)
  return examples.map((event) => (telling.sentences[event.type] as (event: unknown, named: Named) => string)(event, named))
}

test.each(['en', 'es', 'ar'] as const)('every event says itself in %s, whole and without a claim that is not ours', (language) => {
  const sentences = said(language)
  expect(new Set(examples.map(({ type }) => type)).size).toBe(DayEvent.options.length)
  expect(sentences.filter((one) => one.trim() === '' || /undefined|null|NaN|\[object/.test(one))).toEqual([])
  expect(sentences.filter((one) => neverSay[language].some((claim) => claim.test(one.replace(/[\u2066-\u2069]/g, ''))))).toEqual([])
})

test.each(['es', 'ar'] as const)('none is left in English in %s', (language) => {
  const english = said('en')
  expect(said(language).filter((one, at) => one === english[at])).toEqual([])
})

test('in Arabic nothing but an instrument’s own letters is Latin, and each name stands apart from its line', () => {
  const sentences = said('ar')
  expect(sentences.filter((one) => /[a-z]{2}/i.test(one.replaceAll('WBGT', '')))).toEqual([])
  expect(sentences.filter((one) => /(?<!\u2068)‹1›|‹1›(?!\u2069)/.test(one))).toEqual([])
})

test('what stands beside a sentence is said in each language', () => {
  const beside = ({ by, clocks, notCertain, holdGoverns, notCertainHelp, nobody, everywhere, aHold, aReview }: Telling) => [
    by('1', '2'),
    clocks('1', 400, '2'),
    notCertain,
    holdGoverns,
    notCertainHelp(2),
    nobody,
    everywhere,
    aHold,
    aReview,
  ]
  const english = beside(tellingEn)
  expect(english[3]).toBe('Order not certain; hold governs')
  // Person and device have no word between them in English.
  expect([tellingEs, tellingAr].flatMap((one) => beside(one).filter((says, at) => says === english[at]))).toEqual([])
})

interface Schema {
  const?: unknown
  enum?: unknown[]
  anyOf?: Schema[]
  oneOf?: Schema[]
  allOf?: Schema[]
  type?: string
  properties?: Record<string, Schema>
  items?: Schema
}

/** The `kind`th way in which an event of this shape may be told. */
function exampleOf(schema: Schema, kind: number): unknown {
  const one = <T>(of: readonly T[]): T => of[kind % of.length]!
  if ('const' in schema) return schema.const
  if (schema.enum) return one(schema.enum)
  const either = schema.anyOf ?? schema.oneOf
  if (either) return exampleOf(one(either), Math.floor(kind / either.length) + kind)
  if (schema.properties) {
    return Object.fromEntries(Object.entries(schema.properties).map(([key, its]) => [key, exampleOf(its, kind)]))
  }
  if (schema.type === 'array') return [exampleOf(schema.items ?? {}, kind)]
  if (schema.type === 'boolean') return kind % 2 === 0
  if (schema.type === 'integer' || schema.type === 'number') return 7
  if (schema.type === 'null') return null
  return '7'
}
