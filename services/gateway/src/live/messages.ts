import type { View } from '@musterbook/vocabulary/ports'
import jsonPatch from 'fast-json-patch'

/** A row that was sent, and its message, put together once for all who read it. */
export interface Sent {
  readonly row: View
  readonly whole: () => Uint8Array
}

export const retry = bytes('retry: 2000\n\n')
export const beat = bytes('event: beat\ndata: {}\n\n')

export function sentOf(row: View): Sent {
  return { row, whole: once(() => bytes(`id: ${row.version}\ndata: ${JSON.stringify({ version: row.version, body: row.body })}\n\n`)) }
}

/** From what was sent before to this, as a JSON Patch (RFC 6902); the whole row where that is shorter. */
export function differenceOf(before: Sent, sent: Sent): () => Uint8Array {
  return once(() => {
    const { version, body } = sent.row
    const patch = jsonPatch.compare(before.row.body as object, body as object)
    const data = JSON.stringify({ from: before.row.version, version, patch })
    const message = bytes(`id: ${version}\nevent: difference\ndata: ${data}\n\n`)
    const whole = sent.whole()
    return message.length < whole.length ? message : whole
  })
}

function once<Value>(work: () => Value): () => Value {
  let value: Value | undefined
  return () => (value ??= work())
}

function bytes(text: string): Uint8Array {
  return new TextEncoder().encode(text)
}
