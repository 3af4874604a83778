import type { Told } from './history.ts'

/** What happened to the files of a ledger, and what its client saw, in one order. */
export type Happening =
  | { readonly what: 'write'; readonly file: 0 | 1; readonly offset: number; readonly bytes: Buffer }
  | { readonly what: 'cut'; readonly file: 0 | 1; readonly offset: number }
  | { readonly what: 'sync'; readonly file: 0 | 1 }
  | { readonly what: 'told'; readonly told: Told }

const toldCode = 4
const headLength = 14

export function toldRecord(told: Told): Buffer {
  const bytes = Buffer.from(JSON.stringify(told))
  const head = Buffer.alloc(headLength)
  head[0] = toldCode
  head.writeUInt32LE(bytes.length, 10)
  return Buffer.concat([head, bytes])
}

/** Reads what the preloaded recorder and the child have written (its form stands in recorder.c). */
export function parseRecord(record: Buffer): Happening[] {
  const happenings: Happening[] = []
  for (let at = 0; at < record.length;) {
    const [code, file] = [record[at]!, record[at + 1]! as 0 | 1]
    const offset = Number(record.readBigInt64LE(at + 2))
    const length = record.readUInt32LE(at + 10)
    const bytes = record.subarray(at + headLength, at + headLength + length)
    if (code === 1) happenings.push({ what: 'write', file, offset, bytes })
    else if (code === 2) happenings.push({ what: 'cut', file, offset })
    else if (code === 3) happenings.push({ what: 'sync', file })
    else if (code === toldCode) happenings.push({ what: 'told', told: JSON.parse(bytes.toString()) as Told })
    else throw new Error(`the record has an unknown kind ${code} at ${at}`)
    at += headLength + length
  }
  return happenings
}
