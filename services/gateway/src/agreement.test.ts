import * as c from '@musterbook/day/controls'
import { expect, test } from 'vitest'
import { agreements } from './agreement.ts'

/** Two people read the same things. Invented; each expected number is worked out by hand beside it. */
const bibs = ['101', '102', '103', '104', '105']
const everybody = new Set(bibs.map((bib) => c.studentId(bib) as string))

function day(students = bibs) {
  const drive = c.drive()
  c.opened(students.map((bib) => c.expected(bib)))(drive)
  c.ready(...students)(drive)
  return drive
}

test('two watches on one try: the mean difference, its limits and the technical error, in seconds', () => {
  const drive = day()
  const readings = [
    [1800, 1810],
    [1850, 1870],
    [1790, 1790],
    [1900, 1930],
    [1825, 1840],
  ] as const
  for (const [index, [mira, colm]] of readings.entries()) {
    const [bib, attemptId] = [bibs[index]!, `a-${index}`]
    c.tries(bib, 'agility', attemptId, c.seconds(mira))(drive)
    c.records(bib, 'agility', attemptId, c.seconds(colm), { observationId: `colm-${index}` }, {}, c.colm)(drive)
  }
  // Colm stands first by name: his reading minus hers is -0.10, -0.20, 0, -0.30, -0.15 turned round; SD 0.1118.
  const [line, ...more] = agreements(drive.day, everybody, 5)
  expect(more).toEqual([])
  expect(line).toMatchObject({ test: 'Agility run', sign: 's', first: 'colm', second: 'mira' })
  expect(line!.shown).toMatchObject({ students: 5, pairs: 5 })
  expect(line!.shown!.bias).toBeCloseTo(-0.15, 6)
  expect(line!.shown!.lower).toBeCloseTo(-0.15 - 1.96 * Math.sqrt(0.0125), 4)
  expect(line!.shown!.upper).toBeCloseTo(-0.15 + 1.96 * Math.sqrt(0.0125), 4)
  expect(line!.shown!.technicalError).toBeCloseTo(Math.sqrt((0.01 + 0.04 + 0 + 0.09 + 0.0225) / 10), 6)
  // Of four students nothing is shown, not even how many.
  expect(agreements(drive.day, new Set([...everybody].slice(1)), 5)).toMatchObject([{ shown: null }])
  expect(agreements(drive.day, new Set(), 5)).toEqual([])
})

test('two skinfold raters: the mean of each at a site, site by site, in millimetres', () => {
  const drive = day(['101', '102'])
  const folds = (...read: [string, number][]) => ({ folds: read.map(([site, halfMillimetres]) => ({ site, halfMillimetres })) })
  for (const bib of ['101', '102']) {
    c.tries(bib, 'skinfold', `f-${bib}`, null, folds(['chest', 20], ['chest', 22], ['thigh', 40]))(drive)
    c.records(bib, 'skinfold', `f-${bib}`, null, { observationId: `bo-${bib}`, ...folds(['chest', 24], ['thigh', 41]) }, {}, c.bo)(drive)
  }
  // Mira minus Bo: chest 10.5 - 12, thigh 20 - 20.5.
  const [line] = agreements(drive.day, everybody, 2)
  expect(line).toMatchObject({ sign: 'mm', first: 'bo', second: 'mira', shown: { students: 2, pairs: 4 } })
  expect(line!.shown!.bias).toBeCloseTo(-1, 9)
})

test('two lap scorers: a second witness beside the nearest crossing of the other', () => {
  const drive = day(['101', '102'])
  c.all(c.at('10:00'), c.reads(24), c.gun('w1', ['101', '102']))(drive)
  c.crosses('w1', '101', '2:00.0')(drive)
  c.crosses('w1', '102', '2:10.0')(drive)
  c.tells('takeOverWave', c.bo, { waveId: 'w1' })(drive)
  c.crosses('w1', '101', '4:00.0', 'lap', c.bo)(drive)
  c.crosses('w1', '102', '4:20.0', 'lap', c.bo)(drive)
  c.crosses('w1', '101', '4:00.4')(drive)
  c.crosses('w1', '102', '4:20.2')(drive)
  const [line] = agreements(drive.day, everybody, 2)
  expect(line).toMatchObject({ first: 'bo', second: 'wren', sign: 's', shown: { students: 2, pairs: 2 } })
  expect(line!.shown!.bias).toBeCloseTo(0.3, 9)
})
