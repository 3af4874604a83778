import { expect, test } from 'vitest'
import { partsOfPlacing } from './placing-label.ts'

test.each([
  ['60th', { percentile: '60', how: 'met' }],
  ['below 10th', { percentile: '10', how: 'below' }],
  ['91st or better', { percentile: '91', how: 'orBetter' }],
  ['no norm', undefined],
])('%s is read as it was labelled', (label, parts) => expect(partsOfPlacing(label)).toEqual(parts))
