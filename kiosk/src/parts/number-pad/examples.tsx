import { useState } from 'preact/hooks'
import { StudentCard } from '../student-card/student-card.tsx'
import { NumberPad } from './number-pad.tsx'
import type { Examples } from '../examples.ts'

const nothing = () => undefined

function Doubted({ start, asking }: { start: string; asking?: boolean }) {
  const [said, say] = useState('')
  return (
    <NumberPad
      label="Reach, try 3"
      unit="cm"
      places={1}
      negative
      start={start}
      asking={asking}
      question={(amount) => (amount > 600 ? 'This is far more than the try before.' : undefined)}
      onSave={(amount) => say(`Saved ${amount} tenths`)}
      head={said && <p role="status">{said}</p>}
    />
  )
}

export const examples: Examples = {
  'a birth date, half typed': () => (
    <NumberPad label="Birth date: day, month, year" unit="" places={0} shape="date" start="1105" onSave={nothing} />
  ),
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
  'an unlikely value is asked about': () => <Doubted start="83.0" asking />,
  'asks when it must, and says what it saved': () => <Doubted start="" />,
}
