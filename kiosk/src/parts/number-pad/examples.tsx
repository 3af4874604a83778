import { StudentCard } from '../student-card/student-card.tsx'
import { NumberPad } from './number-pad.tsx'
import type { Examples } from '../examples.ts'

const nothing = () => undefined

export const examples: Examples = {
  'nothing typed, for one student': () => (
    <NumberPad
      label="Body mass"
      unit="kg"
      places={1}
      onSave={nothing}
      head={<StudentCard size="large" student={{ id: 's-101', name: 'Ada Marsh', bib: '101', class: 'Lark-7', lookAlike: true }} />}
    />
  ),
  'a value that may be negative': () => <NumberPad label="Reach, try 2" unit="cm" places={1} negative start="38.0" onSave={nothing} />,
  'a time from the right': () => (
    <NumberPad label="Run, from the finish watch" unit="" places={0} shape="time" start="1257" onSave={nothing} />
  ),
  'an unlikely value is asked about': () => (
    <NumberPad
      label="Reach, try 3"
      unit="cm"
      places={1}
      negative
      start="83.0"
      asking
      question={() => 'This is 45.0 cm more than the try before.'}
      onSave={nothing}
    />
  ),
}
