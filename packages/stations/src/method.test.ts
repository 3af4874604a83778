import { expect, test } from 'vitest'
import { demoProtocol } from './controls.ts'
import { demoProtocols } from './demo-protocols.ts'
import { methodOf } from './method.ts'

test('clock, turning side, foot-line and track are part of the method', () => {
  expect(methodOf(demoProtocol('timed'))).toEqual({
    station: 'agility',
    counts: 'best',
    timing: 'hand',
    course: '9144 mm',
    markers: '4',
    turningSide: 'left',
  })
  expect(methodOf(demoProtocol('measured'))).toMatchObject({ footLine: '260 mm' })
  expect(methodOf(demoProtocol('run'))).toMatchObject({ track: '6 laps of 402336 mm and 0 mm' })
})

test.each(demoProtocols)('$name: a new version with other words is the same method', (protocol) => {
  expect(methodOf({ ...protocol, version: 2, name: 'Otherwise', steps: ['In other words.'] })).toEqual(methodOf(protocol))
})

test('another clock is another method', () => {
  expect(methodOf({ ...demoProtocol('timed'), timing: 'electronic' })).not.toEqual(methodOf(demoProtocol('timed')))
})
