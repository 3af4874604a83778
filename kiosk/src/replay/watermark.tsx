import type { ComponentChildren } from 'preact'
import { words } from '../words/words.ts'

/** What never was is marked over and over, so that no picture of a part of it can pass for the record. */
export function Watermark({ children }: { children: ComponentChildren }) {
  return (
    <div class="replay-watermark" data-mark={words.replay.watermark}>
      <p class="replay-watermark-says">
        <strong>{words.replay.watermark}</strong>
      </p>
      {children}
      <p class="replay-watermark-says">
        <strong>{words.replay.watermark}</strong>
      </p>
    </div>
  )
}
