import { Mark } from '../mark/mark.tsx'
import { StudentCard } from './student-card.tsx'
import type { Examples } from '../examples.ts'

const ada = { id: 's-101', name: 'Ada Marsh', bib: '101', class: 'Lark-7', lookAlike: true }

export const examples: Examples = {
  'in a row': () => <StudentCard student={{ id: 's-115', name: 'Sunniva Okoro-Lindqvist', bib: '115', class: 'Lark-7' }} />,
  'a similar name today': () => <StudentCard student={ada} />,
  'with a state': () => (
    <StudentCard student={{ id: 's-112', name: 'Kofi Brandt', bib: '112', class: 'Lark-7' }}>
      <Mark state="underWay" />
    </StudentCard>
  ),
  'large, at the head of an entry': () => <StudentCard student={ada} size="large" />,
  'no bib yet, a name in another script': () => <StudentCard student={{ id: 's-140', name: 'ليلى حداد', class: 'Lark-7' }} size="large" />,
}
