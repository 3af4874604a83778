import { SkinfoldSites } from './skinfold-sites.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  'second time round, one third asked': () => (
    <SkinfoldSites
      current="thigh"
      onChoose={() => undefined}
      sites={[
        { site: 'chest', name: 'Chest', readingsHalfMm: [21, 22] },
        { site: 'abdomen', name: 'Abdomen', readingsHalfMm: [36, 43], thirdAsked: true },
        { site: 'thigh', name: 'Thigh', readingsHalfMm: [29] },
      ]}
    />
  ),
}
