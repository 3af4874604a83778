import { expect, test } from 'vitest'
import { demoProtocols } from './demo-protocols.ts'
import { protocolProblems } from './protocol.ts'

test.each(demoProtocols)('$name can be adopted and says that it is invented', (protocol) => {
  expect(protocolProblems(protocol)).toEqual([])
  expect(protocol.invented).toBe(true)
  expect(JSON.parse(JSON.stringify(protocol))).toEqual(protocol)
})

test('skinfolds need clearance alone, the bench body mass as well, and only the run is outdoors', () => {
  expect(demoProtocols.map(({ protocolId, prerequisites, outdoor }) => [protocolId, prerequisites, outdoor])).toEqual([
    ['skinfold', [], false],
    ['agility', ['warmUp'], false],
    ['sitAndReach', ['warmUp'], false],
    ['benchPress', ['warmUp', 'bodyMass'], false],
    ['run', ['warmUp'], true],
  ])
})

test('no card promises anything', () => {
  expect(JSON.stringify(demoProtocols)).not.toMatch(/\bsafe\b|all clear|\bfit\b|healthy|low risk/i)
})
