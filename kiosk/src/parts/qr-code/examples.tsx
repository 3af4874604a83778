import { QrCode } from './qr-code.tsx'
import type { Examples } from '../examples.ts'

export const examples: Examples = {
  'a badge code': () => <QrCode text="LK7-0101" shown />,
}
