import encodeQR from 'qr'
import { words } from '../../words/words.ts'
import './qr-code.css'

export interface QrCodeProps {
  /** What a reader gets. */
  text: string
  /** What speech says; the text itself unless told. */
  says?: string | undefined
  /** Shows the text under the code, for whoever has no reader. */
  shown?: boolean
}

/** A code for badges, bibs and enrolment: always dark on light, with its quiet zone, in either theme. */
export function QrCode({ text, says, shown }: QrCodeProps) {
  const rows = encodeQR(text, 'raw', { ecc: 'medium', border: 4 })
  const path = rows.map((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : '')).join('')).join('')
  return (
    <figure class="qr">
      <svg
        class="qr-drawing"
        viewBox={`0 0 ${rows.length} ${rows.length}`}
        role="img"
        aria-label={says ?? words.qr.code(text)}
        focusable="false"
      >
        <rect width={rows.length} height={rows.length} fill="#ffffff" />
        <path d={path} fill="#000000" shape-rendering="crispEdges" />
      </svg>
      {shown && <figcaption class="code qr-text">{text}</figcaption>}
    </figure>
  )
}
