import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { recordView, type RecordView } from '@musterbook/day/views/record'
import { cohortPage } from './cohort.ts'
import { dictionaryCsv, resultColumns, resultsCsv } from './results-table.ts'

function records(bibs: readonly string[]): RecordView[] {
  const drive = c.drive()
  c.opened(bibs.map((bib) => c.expected(bib)))(drive)
  for (const bib of bibs) c.all(c.ready(bib), c.tries(bib, 'agility', `a-${bib}`, c.seconds(1720)))(drive)
  return [...drive.day.students.keys()].map((studentId) => recordView(drive.day, studentId)!)
}

test('one line a student and test, under the columns that the dictionary names, and no name', () => {
  const [head, ...lines] = resultsCsv(records(['116']))
    .trimEnd()
    .split('\r\n')
  expect(head!.split(',')).toEqual(resultColumns.map(({ name }) => name))
  const agility = lines.find((line) => line.includes(',agility,'))!.split(',')
  const value = (name: string) => agility[resultColumns.findIndex((column) => column.name === name)]
  expect([value('studentId'), value('result'), value('state'), value('tries')]).toEqual(['s116', '17.2 s', 'provisional', '1'])
})

test('what a spreadsheet would run is kept from it, and quotes and commas survive', () => {
  const [record] = records(['116'])
  const bent = { ...record!, classId: '=1+1,"x"' }
  expect(resultsCsv([bent])).toContain(`"'=1+1,""x"""`)
})

test('the dictionary as a table has a line for each column', () => {
  expect(dictionaryCsv().trimEnd().split('\r\n')).toHaveLength(resultColumns.length + 1)
})

test('a class in counts: a group of four is not shown, nor the group beside it from which it could be found', () => {
  const all = records(['101', '102', '103', '104', '105', '106', '107', '108', '109', '110', '111', '112', '113'])
  const sexed = all.map((record, at) => ({ ...record, normGroup: { ...record.normGroup, sex: at < 4 ? ('W' as const) : ('M' as const) } }))
  expect(cohortPage(sexed, 5)).toMatchObject({ students: 13, totals: { groups: [null, null], all: 13 } })
  const men = cohortPage(all, 5)
  expect(men.totals).toEqual({ groups: [13], all: 13 })
  const agility = men.tests.find(({ test }) => test.startsWith('Agility'))
  // 17.2 s is the 60th for every one of them.
  expect(agility?.counts).toEqual({ cells: [[0, 0, 13, 0, 0]], totals: [0, 0, 13, 0, 0] })
  expect(cohortPage(all.slice(0, 4), 5)).toMatchObject({
    students: null,
    tests: expect.arrayContaining([expect.objectContaining({ counts: null })]),
  })
})
