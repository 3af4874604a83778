import { expect, test } from 'vitest'
import { at, celsius, reading, shown } from './controls.ts'
import { dayChart, type DayOfHeat } from './day-chart.ts'
import { demoPolicy } from './policies.ts'
import { figuresOf } from './reading-figures.ts'
import type { HeatReading } from './reading.ts'

const figures = (degrees: number, clock: string, over: Partial<HeatReading> = {}) =>
  figuresOf(shown(degrees, { readingId: clock, occurredAt: at(clock), ...over }), demoPolicy)

const day = (over: Partial<DayOfHeat> = {}): DayOfHeat => ({
  fromMs: at('09:00'),
  toMs: at('12:00'),
  readings: [figures(28.3, '10:25'), figures(25.2, '09:10'), figures(27.1, '10:50'), figures(26, '10:41', { settled: false })],
  holds: [{ holdId: 'hold-1', kind: 'heat', raisedAt: at('10:25'), liftedAt: at('10:52') }],
  out: [
    { fromMs: at('10:10'), toMs: at('10:26') },
    { fromMs: at('10:10'), toMs: at('10:27') },
    { fromMs: at('11:50'), toMs: null },
  ],
  ...over,
})

test('the readings in order, as they look, with the bands around them', () => {
  const chart = dayChart(day(), demoPolicy)
  expect(chart.points.map(({ tenths, looks, band }) => [tenths, looks, band])).toEqual([
    [252, 'measured', '24.0 to 27.9'],
    [283, 'measured', '28.0 and above'],
    [260, 'notSettled', '24.0 to 27.9'],
    [271, 'measured', '24.0 to 27.9'],
  ])
  expect([chart.lowestTenths, chart.highestTenths, chart.raiseTenths]).toEqual([240, 300, 280])
  expect(chart.bands).toEqual([
    { id: '24.0 to 27.9', flag: null, fromTenths: 240, toTenths: 280 },
    { id: '28.0 and above', flag: null, fromTenths: 280, toTenths: 300 },
  ])
  expect(chart.worstBand).toBe('28.0 and above')
})

test('estimates, doubtful readings and those without a WBGT', () => {
  const wickDry = figuresOf(
    reading({
      readingId: 'dry',
      occurredAt: at('11:00'),
      values: { naturalWetBulb: celsius(26), globe: celsius(40), dryBulb: celsius(26) },
    }),
    demoPolicy,
  )
  const chart = dayChart(
    day({ readings: [wickDry, figures(30, '11:10', { method: 'estimate' }), figures(0, '11:20', { values: {} })] }),
    demoPolicy,
  )
  expect(chart.points.map(({ looks }) => looks)).toEqual(['doubtful', 'estimated'])
  expect(chart.worstBand).toBeNull()
  expect(chart.withoutReading).toEqual([{ fromMs: at('09:00'), toMs: at('12:00') }])
})

test('when there was no fresh reading', () => {
  expect(dayChart(day(), demoPolicy).withoutReading).toEqual([
    { fromMs: at('09:00'), toMs: at('09:10') },
    { fromMs: at('09:40'), toMs: at('10:25') },
    { fromMs: at('11:20'), toMs: at('12:00') },
  ])
  expect(dayChart(day(), { ...demoPolicy, readingsNeeded: false }).withoutReading).toEqual([])
})

test('holds are cut to the day, an open one lasts to its end', () => {
  const holds = [
    { holdId: 'a', kind: 'heat', raisedAt: at('08:00'), liftedAt: at('09:30') },
    { holdId: 'b', kind: 'lightning', raisedAt: at('11:00'), liftedAt: null },
    { holdId: 'c', kind: 'heat', raisedAt: at('07:00'), liftedAt: at('08:00') },
  ]
  expect(dayChart(day({ holds }), demoPolicy).holds).toEqual([
    { holdId: 'a', kind: 'heat', fromMs: at('09:00'), toMs: at('09:30'), lifted: true },
    { holdId: 'b', kind: 'lightning', fromMs: at('11:00'), toMs: at('12:00'), lifted: false },
  ])
})

test('who was out, as steps', () => {
  expect(dayChart(day(), demoPolicy).out).toEqual([
    { fromMs: at('09:00'), count: 0 },
    { fromMs: at('10:10'), count: 2 },
    { fromMs: at('10:26'), count: 1 },
    { fromMs: at('10:27'), count: 0 },
    { fromMs: at('11:50'), count: 1 },
    { fromMs: at('12:00'), count: 0 },
  ])
})

test('a day without anything is an empty chart around the threshold', () => {
  const chart = dayChart(day({ readings: [], holds: [], out: [] }), demoPolicy)
  expect([chart.points, chart.lowestTenths, chart.highestTenths, chart.worstBand]).toEqual([[], 270, 290, null])
  expect(chart.out).toEqual([{ fromMs: at('09:00'), count: 0 }])
})
