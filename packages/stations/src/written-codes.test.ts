import { expect, test } from 'vitest'
import { demoProtocols } from './demo-protocols.ts'
import { sheetNumber, stationOfSheet, writtenCodes } from './written-codes.ts'

test('every fault, spoilt try and end that a protocol knows has one code of its own', () => {
  for (const protocol of demoProtocols) {
    const codes = writtenCodes(protocol)
    const ended = protocol.kind === 'run' ? protocol.details.didNotFinish : ['stoppedByChoice']
    expect(new Set(codes.map(({ code }) => code)).size).toBe(codes.length)
    expect(codes.flatMap(({ fault }) => fault ?? [])).toEqual([...protocol.faults, ...protocol.noFaults, ...ended])
  }
})

test('a failed lift is a no-lift and a fault elsewhere is a foul, also where the sheet does not say which', () => {
  const of = (kind: string) => writtenCodes(demoProtocols.find((one) => one.kind === kind)!)
  expect(of('loaded').find(({ code }) => code === 'F')).toEqual({ code: 'F', outcome: 'noLift', fault: null })
  expect(of('timed').find(({ code }) => code === 'F2')).toEqual({ code: 'F2', outcome: 'foul', fault: 'wrongWay' })
  expect(of('run').filter(({ outcome }) => outcome === 'didNotFinish')).toHaveLength(5)
})

test('a sheet’s number names its station on its own day and on no other', () => {
  expect(sheetNumber('2027-05-11', 1, 0)).toBe('0511-2-1')
  expect(stationOfSheet(' 0511-2-1', '2027-05-11')).toBe(1)
  for (const none of ['', '0511-2', '0512-2-1', 'sheet two']) expect(stationOfSheet(none, '2027-05-11')).toBeNull()
})
