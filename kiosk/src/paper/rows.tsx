import type { StationView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { words } from '../words/words.ts'
import type { paperActs } from './acts.ts'

/** What the rows of a sheet are told with. */
export interface RowsProps {
  house: House
  view: StationView
  /** The sheet's number. */
  sheet: string
  acts: ReturnType<typeof paperActs>
}

export const people = ({ house, view }: RowsProps) =>
  view.students.map(({ studentId, bib }) => ({ value: studentId, says: `#${bib ?? '?'} ${shown(house, studentId, bib).name}` }))

export function Official({ official, onChange }: { official: boolean; onChange: (official: boolean) => void }) {
  return (
    <Tabs
      label={words.station.kindOfTry}
      value={official ? 'official' : 'practice'}
      choices={[
        { value: 'official', says: words.station.official },
        { value: 'practice', says: words.station.practice },
      ]}
      onChange={(chosen) => onChange(chosen === 'official')}
    />
  )
}
