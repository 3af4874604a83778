import { Face } from './face.tsx'
import type { Examples } from '../examples.ts'

const seeds = Array.from({ length: 24 }, (_, i) => `lark-7-${100 + i}`)

export const examples: Examples = {
  'two dozen invented students': () => (
    <div class="faces">
      {seeds.map((seed) => (
        <Face key={seed} seed={seed} name={seed} />
      ))}
    </div>
  ),
}
