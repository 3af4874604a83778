import { bestOf, type Official, type ValidTry } from './best-of.ts'
import type { Protocol } from './protocol.ts'
import { roundRatio, sayRounding } from './rounding.ts'
import { each, inSmallest, type ReadingUnit, sayValue, type ScoreUnit } from './units.ts'
import type { Step } from './working.ts'

/** A station's own result: the raw value that counts and the score that it gives. What norms make of it is packages/scoring's. */
export interface OfficialResult {
  amount: number
  unit: ScoreUnit
  counted: readonly ValidTry[]
  working: readonly Step[]
}

/** No value yet, and why. */
export interface NoResult {
  missing: 'validTry' | 'bodyMass'
}

export interface BodyMass {
  amount: number
  unit: ReadingUnit
  /** The event of the weigh-in, so that the working leads back to it. */
  observationId: string
}

/**
 * What the valid tries of one student come to under the protocol, rounded once.
 * Skinfolds come through `skinfold.ts`: their tries are sums of sites and packages/scoring turns them into percent fat.
 */
export function officialResult(protocol: Protocol, tries: readonly ValidTry[], bodyMass?: BodyMass): OfficialResult | NoResult {
  const official = bestOf(tries, protocol)
  if (!official) return { missing: 'validTry' }
  if (protocol.scoreUnit === 'percentOfBodyMass') {
    return bodyMass ? percentOfBodyMass(protocol, tries, official, bodyMass) : { missing: 'bodyMass' }
  }
  const amount = roundRatio(official.sum, official.of * each(protocol.scoreUnit), protocol.rounding)
  return {
    amount,
    unit: protocol.scoreUnit,
    counted: official.counted,
    working: [...readings(protocol, tries), counts(protocol, official), rounded(protocol, sayCounted(official), amount)],
  }
}

/** Load over body mass of the day, in percent, from the two readings themselves and rounded once. */
function percentOfBodyMass(protocol: Protocol, tries: readonly ValidTry[], official: Official, bodyMass: BodyMass): OfficialResult {
  const mass = inSmallest(bodyMass.amount, bodyMass.unit)
  const amount = roundRatio(100 * official.sum, official.of * mass, protocol.rounding)
  const from = `${sayCounted(official)} ÷ ${sayValue(bodyMass.amount, bodyMass.unit)}`
  return {
    amount,
    unit: 'percentOfBodyMass',
    counted: official.counted,
    working: [
      ...readings(protocol, tries),
      counts(protocol, official),
      {
        step: 'read',
        rule: 'body mass of the day',
        from: bodyMass.observationId,
        gives: sayValue(bodyMass.amount, bodyMass.unit),
        sources: [bodyMass.observationId],
      },
      { ...rounded(protocol, from, amount), rule: `100 × load ÷ body mass, ${roundingOf(protocol)}` },
    ],
  }
}

const readings = (protocol: Protocol, tries: readonly ValidTry[]): Step[] =>
  tries.flatMap((one, index) => [
    ...(one.before ?? []),
    {
      step: 'read',
      rule: `${protocol.name}, valid try ${index + 1}`,
      from: one.attemptId,
      gives: sayValue(one.amount, one.unit),
      sources: [one.attemptId],
    },
  ])

const counts = (protocol: Protocol, official: Official): Step => ({
  step: 'counts',
  rule: `${protocol.official} of the valid tries, ${protocol.betterIs} is better`,
  from: official.counted.map((one) => one.attemptId).join(', '),
  gives: sayCounted(official),
  sources: official.counted.map((one) => one.attemptId),
})

const rounded = (protocol: Protocol, from: string, amount: number): Step => ({
  step: 'rounded',
  rule: `${roundingOf(protocol)}, by ${protocol.protocolId} version ${protocol.version}`,
  from,
  gives: sayValue(amount, protocol.scoreUnit),
  sources: [],
})

const roundingOf = (protocol: Protocol): string => sayRounding(protocol.rounding, sayValue(protocol.rounding.to, protocol.scoreUnit))

const sayCounted = (official: Official): string =>
  `${official.of > 1 ? 'mean of ' : ''}${official.counted.map((one) => sayValue(one.amount, one.unit)).join(' and ')}`
