import { words } from '../../words/words.ts'
import { Mark, type State } from './mark.tsx'
import type { Examples } from '../examples.ts'

const states = Object.keys(words.states) as State[]

export const examples: Examples = {
  'every state': () => (
    <ul class="marks">
      {states.map((state) => (
        <li key={state}>
          <Mark state={state} />
        </li>
      ))}
    </ul>
  ),
  large: () => <Mark state="underWay" large />,
}
