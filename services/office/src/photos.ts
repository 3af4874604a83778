import { createHash } from 'node:crypto'
import type { Office } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { Desk } from './desk.ts'
import { studentShelf } from './student-shelf.ts'

const largestBytes = 2_000_000
const begins = {
  'image/jpeg': (bytes: Buffer) => bytes.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff])),
  'image/png': (bytes: Buffer) => bytes.subarray(0, 8).equals(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])),
  'image/webp': (bytes: Buffer) =>
    bytes.subarray(0, 4).toString('latin1') === 'RIFF' && bytes.subarray(8, 12).toString('latin1') === 'WEBP',
}

/** Pictures of students, by the digest of their bytes. What a file is, its first bytes say, never its name. */
export function photos(desk: Desk): Pick<Office, 'keepPhoto' | 'photo'> {
  const shelf = studentShelf(desk)
  const keep = desk.people.prepare('INSERT OR IGNORE INTO photo (photoDigest, mediaType, bytes) VALUES (?, ?, ?)')
  const find = desk.people.prepare('SELECT bytes, mediaType FROM photo WHERE photoDigest = ?')
  return {
    keepPhoto: async (studentId, bytes) => {
      const row = shelf.find(studentId)
      if (!row) return officeRefusal('noSuchStudent')
      const buffer = Buffer.from(bytes)
      const mediaType = Object.entries(begins).find(([, is]) => is(buffer))?.[0]
      if (!mediaType || buffer.length > largestBytes) return officeRefusal('photoUnusable')
      const photoDigest = createHash('sha256').update(buffer).digest('hex')
      keep.run(photoDigest, mediaType, buffer)
      shelf.keep([{ ...row, photoDigest }])
      return { photoDigest }
    },
    photo: async (photoDigest) => {
      const row = find.get(photoDigest) as { bytes: Buffer; mediaType: string } | undefined
      return row ? { bytes: new Uint8Array(row.bytes), mediaType: row.mediaType } : null
    },
  }
}
