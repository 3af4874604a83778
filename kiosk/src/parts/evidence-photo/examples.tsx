import { EvidencePhoto, TakePhoto } from './evidence-photo.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  'none taken yet': () => <TakePhoto taken={false} onTake={() => undefined} />,
  'one taken': () => <TakePhoto taken onTake={() => undefined} />,
  'behind a result': () => <EvidencePhoto photoDigest={'9f'.repeat(32)} />,
}
