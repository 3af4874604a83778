import { useState } from 'preact/hooks'
import { StepSlider } from './step-slider.tsx'
import type { Examples } from '../examples.ts'

function Walked() {
  const [position, step] = useState(412)
  return (
    <StepSlider
      position={position}
      count={2_706}
      says="10:21:30. Hold raised over Track by R. Benning."
      onStep={step}
      marks={[{ position: 412, says: 'Hold raised' }]}
    />
  )
}

export const examples: Examples = {
  'in the middle of a day': () => <Walked />,
}
