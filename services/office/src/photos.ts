import { createHash } from 'node:crypto'
import type { Office } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { Desk } from './desk.ts'
import { recordOwner, studentShelf } from './student-shelf.ts'

const largestBytes = 2_000_000
/** A tablet makes its pictures smaller than this before it sends them. */
const largestEvidenceBytes = 400_000
const begins = {
  'image/jpeg': (bytes: Buffer) => bytes.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff])),
  'image/png': (bytes: Buffer) => bytes.subarray(0, 8).equals(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])),
  'image/webp': (bytes: Buffer) =>
    bytes.subarray(0, 4).toString('latin1') === 'RIFF' && bytes.subarray(8, 12).toString('latin1') === 'WEBP',
}

/** Pictures of students, each sealed for its student, and of what they did, by the digest of their bytes. */
export function photos(desk: Desk): Pick<Office, 'keepPhoto' | 'photo' | 'keepEvidence' | 'evidence'> {
  const shelf = studentShelf(desk)
  const faces = photoShelf(desk)
  const evidence = evidenceShelf(desk)
  return {
    keepPhoto: async (studentId, bytes) => {
      const row = shelf.find(studentId)
      if (!row) return officeRefusal('noSuchStudent')
      const picture = pictureOf(bytes, largestBytes)
      if (!picture) return officeRefusal('photoUnusable')
      faces.keep(studentId, picture)
      shelf.keep([{ ...row, photoDigest: picture.photoDigest }])
      return { photoDigest: picture.photoDigest }
    },
    photo: async (photoDigest) => faces.find(photoDigest),
    keepEvidence: async (bytes) => {
      const picture = pictureOf(bytes, largestEvidenceBytes)
      if (!picture) return officeRefusal('evidenceUnusable')
      evidence.keep(picture)
      return { photoDigest: picture.photoDigest }
    },
    evidence: async (photoDigest) => evidence.find(photoDigest),
  }
}

interface Picture {
  photoDigest: string
  mediaType: string
  buffer: Buffer
}

/** What a file is, its first bytes say, never its name. null: no picture, or too large a one. */
function pictureOf(bytes: Uint8Array, largest: number): Picture | null {
  const buffer = Buffer.from(bytes)
  const mediaType = Object.entries(begins).find(([, is]) => is(buffer))?.[0]
  if (!mediaType || buffer.length > largest) return null
  return { photoDigest: createHash('sha256').update(buffer).digest('hex'), mediaType, buffer }
}

/** Displays and loaded bars: the bytes by their digest. Whose they are, the results of the days say. */
export function evidenceShelf({ people }: Desk) {
  const insert = people.prepare('INSERT OR IGNORE INTO evidence (photoDigest, mediaType, bytes) VALUES (?, ?, ?)')
  const select = people.prepare('SELECT bytes, mediaType FROM evidence WHERE photoDigest = ?')
  const remove = people.prepare('DELETE FROM evidence WHERE photoDigest = ?')
  return {
    keep: ({ photoDigest, mediaType, buffer }: Picture) => void insert.run(photoDigest, mediaType, buffer),
    find: (photoDigest: string) => {
      const row = select.get(photoDigest) as { bytes: Buffer; mediaType: string } | undefined
      return row ? { bytes: new Uint8Array(row.bytes), mediaType: row.mediaType } : null
    },
    forget: (photoDigests: readonly string[]) => {
      for (const photoDigest of photoDigests) remove.run(photoDigest)
    },
  }
}

export function photoShelf({ people, keys }: Desk) {
  const keep = people.prepare('INSERT OR IGNORE INTO sealedPhoto (photoDigest, studentId, mediaType, sealed) VALUES (?, ?, ?, ?)')
  const find = people.prepare('SELECT studentId, mediaType, sealed FROM sealedPhoto WHERE photoDigest = ?')
  const forget = people.prepare('DELETE FROM sealedPhoto WHERE studentId = ?')
  return {
    keep: (studentId: string, { photoDigest, mediaType, buffer }: Picture) =>
      void keep.run(photoDigest, studentId, mediaType, keys.sealFor(recordOwner(studentId), photoDigest, buffer.toString('base64'))),
    find: (photoDigest: string) => {
      const row = find.get(photoDigest) as { studentId: string; mediaType: string; sealed: Buffer } | undefined
      const text = row && keys.openFor(recordOwner(row.studentId), photoDigest, row.sealed)
      return row && text ? { bytes: new Uint8Array(Buffer.from(text, 'base64')), mediaType: row.mediaType } : null
    },
    forget: (studentIds: readonly string[]) => {
      for (const studentId of studentIds) forget.run(studentId)
    },
  }
}
