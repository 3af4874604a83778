import type { RecordView } from '@musterbook/day/views/record'
import { csvCell } from '@musterbook/vocabulary/csv'

type Cell = string | number | boolean | null
interface Column {
  name: string
  means: string
  unit: string | null
  of: (record: RecordView, station: RecordView['stations'][number]) => Cell
}

/** One row a student and test. No name: who `studentId` is stands in the academy’s own register. */
export const resultColumns: readonly Column[] = [
  { name: 'dayId', means: 'The test day', unit: null, of: (record) => record.dayId },
  { name: 'date', means: 'Local civil date of the test day', unit: 'YYYY-MM-DD', of: (record) => record.date },
  { name: 'rehearsal', means: 'true: a rehearsal, not a real record', unit: null, of: (record) => record.rehearsal },
  { name: 'sealed', means: 'true: the day is sealed; later corrections stand behind the seal', unit: null, of: (record) => record.sealed },
  { name: 'classId', means: 'The class', unit: null, of: (record) => record.classId },
  { name: 'studentId', means: 'Pseudonym of the student, the same on every day', unit: null, of: (record) => record.studentId },
  { name: 'bib', means: 'What the student wore that day', unit: null, of: (record) => record.bib },
  { name: 'normSex', means: 'Whose norms apply, as registered for that purpose: M or W', unit: null, of: (record) => record.normGroup.sex },
  { name: 'ageYears', means: 'Completed years on the test date', unit: 'years', of: (record) => record.normGroup.ageYears },
  { name: 'stationId', means: 'The test', unit: null, of: (_, station) => station.stationId },
  {
    name: 'test',
    means: 'Its name; as every text here, behind an apostrophe where a spreadsheet would take it for a formula',
    unit: null,
    of: (_, station) => station.name,
  },
  { name: 'protocolId', means: 'Protocol under which it ran', unit: null, of: (_, station) => station.protocolId },
  { name: 'protocolVersion', means: 'Version of that protocol', unit: null, of: (_, station) => station.protocolVersion },
  {
    name: 'amount',
    means: 'The result, a whole number in `unit`, rounded once by the protocol; empty: none',
    unit: 'see `unit`',
    of: (_, { result }) => result.amount,
  },
  { name: 'unit', means: 'Unit of `amount`', unit: null, of: (_, { result }) => result.unit },
  { name: 'result', means: 'The same as a person reads it', unit: null, of: (_, { result }) => result.says },
  {
    name: 'percentile',
    means: 'Highest row of the norm table that is met; empty: none or below the table',
    unit: 'percentile',
    of: (_, { result }) => result.percentile,
  },
  {
    name: 'placing',
    means: 'The percentile in words, “below 10th” and “no norm” among them',
    unit: null,
    of: (_, { result }) => result.placing,
  },
  { name: 'normGroup', means: 'Group of the norm table', unit: null, of: (_, { result }) => result.group },
  { name: 'normTable', means: 'Norm table and its edition', unit: null, of: (_, { result }) => result.table },
  { name: 'normInvented', means: 'true: the table is invented, for demonstration', unit: null, of: (_, { result }) => result.invented },
  {
    name: 'state',
    means: 'none, provisional, underReview, final, notCounted or interrupted',
    unit: null,
    of: (_, { result }) => result.state,
  },
  { name: 'notes', means: 'What a reader must know, separated by spaces', unit: null, of: (_, { result }) => result.notes.join(' ') },
  {
    name: 'equipment',
    means: 'Instruments that the counting tries named, separated by spaces',
    unit: null,
    of: (_, { result }) => result.equipmentIds.join(' '),
  },
  { name: 'timing', means: 'hand or electronic, where it was timed', unit: null, of: (_, { result }) => result.timing },
  {
    name: 'tries',
    means: 'Official tries in the record',
    unit: 'tries',
    of: (_, { attempts }) => attempts.filter(({ official }) => official).length,
  },
  {
    name: 'corrections',
    means: 'Corrections made to these tries; what they replaced stays in the record',
    unit: 'corrections',
    of: (_, { attempts }) => attempts.reduce((sum, { corrections }) => sum + corrections.length, 0),
  },
]

/** RFC 4180, a header row first, lines ended by CR LF. */
export function resultsCsv(records: readonly RecordView[]): string {
  const rows = records.flatMap((record) => record.stations.map((station) => resultColumns.map(({ of }) => csvCell(of(record, station)))))
  return [resultColumns.map(({ name }) => name), ...rows].map((row) => `${row.join(',')}\r\n`).join('')
}

/** What each column means, as a table to lie beside the other. */
export const dictionaryCsv = (): string =>
  [['column', 'means', 'unit'], ...resultColumns.map(({ name, means, unit }) => [name, means, unit ?? ''])]
    .map((row) => `${row.map((each) => csvCell(each)).join(',')}\r\n`)
    .join('')
