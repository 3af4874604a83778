import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { recordView, type RecordView } from '@musterbook/day/views/record'
import { cohort, resultColumns, resultsCsv } from './results-table.ts'

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

test('a group of four is not shown, nor the group beside it from which it could be found', () => {
  const all = records(['101', '102', '103', '104', '105', '106', '107', '108', '109'])
  const sexed = all.map((record, at) => ({ ...record, normGroup: { ...record.normGroup, sex: at < 4 ? ('W' as const) : ('M' as const) } }))
  expect(cohort(sexed, 5).filter(({ stationId }) => stationId === 'agility')).toMatchObject([
    { sex: 'M', students: null, medianPercentile: null },
    { sex: 'W', students: null, medianPercentile: null },
  ])
  const men = all.map((record) => ({ ...record, normGroup: { ...record.normGroup, sex: 'M' as const } }))
  expect(cohort(men, 5).find(({ stationId, sex }) => stationId === 'agility' && sex === 'M')).toMatchObject({ students: 9 })
})
