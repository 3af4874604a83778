import { FileDrop } from './file-drop.tsx'
import type { Examples } from '../examples.ts'

const roster = {
  label: 'Roster',
  hint: 'Nothing is saved before you have seen every row.',
  endings: ['.csv', '.txt'],
  maxBytes: 2_000_000,
  onFile: () => undefined,
}

export const examples: Examples = {
  'nothing chosen': () => <FileDrop {...roster} />,
  chosen: () => <FileDrop {...roster} chosen={{ name: 'lark-7.csv', size: 5_120 }} />,
}
