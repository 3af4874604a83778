import { createHash } from 'node:crypto'
import type { Office } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { Desk } from './desk.ts'
import { studentShelf } from './student-shelf.ts'

const largestBytes = 2_000_000
/** A tablet makes its pictures smaller than this before it sends them. */
const largestEvidenceBytes = 400_000
const begins = {
  'image/jpeg': (bytes: Buffer) => bytes.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff])),
  'image/png': (bytes: Buffer) => bytes.subarray(0, 8).equals(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])),
  'image/webp': (bytes: Buffer) =>
    bytes.subarray(0, 4).toString('latin1') === 'RIFF' && bytes.subarray(8, 12).toString('latin1') === 'WEBP',
}

/** Pictures of students and of what they did, by the digest of their bytes. */
export function photos(desk: Desk): Pick<Office, 'keepPhoto' | 'photo' | 'keepEvidence' | 'evidence'> {
  const shelf = studentShelf(desk)
  const faces = pictures(desk, 'photo', largestBytes)
  const evidence = pictures(desk, 'evidence', largestEvidenceBytes)
  return {
    keepPhoto: async (studentId, bytes) => {
      const row = shelf.find(studentId)
      if (!row) return officeRefusal('noSuchStudent')
      const photoDigest = faces.keep(bytes)
      if (!photoDigest) return officeRefusal('photoUnusable')
      shelf.keep([{ ...row, photoDigest }])
      return { photoDigest }
    },
    photo: async (photoDigest) => faces.find(photoDigest),
    keepEvidence: async (bytes) => {
      const photoDigest = evidence.keep(bytes)
      return photoDigest ? { photoDigest } : officeRefusal('evidenceUnusable')
    },
    evidence: async (photoDigest) => evidence.find(photoDigest),
  }
}

/** One shelf of pictures. What a file is, its first bytes say, never its name. */
function pictures(desk: Desk, table: 'photo' | 'evidence', largest: number) {
  const insert = desk.people.prepare(`INSERT OR IGNORE INTO ${table} (photoDigest, mediaType, bytes) VALUES (?, ?, ?)`)
  const select = desk.people.prepare(`SELECT bytes, mediaType FROM ${table} WHERE photoDigest = ?`)
  return {
    /** The digest of what is kept now; null where it is no picture, or too large a one. */
    keep(bytes: Uint8Array): string | null {
      const buffer = Buffer.from(bytes)
      const mediaType = Object.entries(begins).find(([, is]) => is(buffer))?.[0]
      if (!mediaType || buffer.length > largest) return null
      const photoDigest = createHash('sha256').update(buffer).digest('hex')
      insert.run(photoDigest, mediaType, buffer)
      return photoDigest
    },
    find(photoDigest: string): { bytes: Uint8Array; mediaType: string } | null {
      const row = select.get(photoDigest) as { bytes: Buffer; mediaType: string } | undefined
      return row ? { bytes: new Uint8Array(row.bytes), mediaType: row.mediaType } : null
    },
  }
}
