import { Choice, Field, Tick } from './field.tsx'
import type { Examples } from '../examples.ts'

const nothing = () => undefined

export const examples: Examples = {
  'a text, with a hint': () => <Field label="Your code" hint="On your badge, under the square" value="LK7-" onInput={nothing} />,
  'something is wrong': () => (
    <Field label="Birth date" value="30/02/1999" error="There is no 30 February. Write it as 28/02/1999." onInput={nothing} />
  ),
  'optional, with a unit': () => <Field label="Globe" unit="°C" inputMode="decimal" optional value="38.2" onInput={nothing} />,
  'several lines': () => <Field label="Reason" long value="" onInput={nothing} />,
  'one of a list': () => (
    <Choice
      label="Zone"
      value="track"
      onChange={nothing}
      choices={[
        { value: 'track', says: 'Track' },
        { value: 'yard', says: 'Yard' },
      ]}
    />
  ),
  'a statement': () => <Tick says="A trained responder is present" checked onChange={nothing} />,
}
