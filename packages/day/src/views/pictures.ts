import type { RecordView } from './record.ts'

/** A picture that was taken beside a reading of a student: the record names its digest, its bytes lie elsewhere. */
export interface Picture {
  photoDigest: string
  station: string
  /** Which try of the student at that station; practice tries count for themselves. */
  number: number
  official: boolean
  at: number
  personId: string | null
}

/** The pictures of one student's own tries. */
export const picturesOf = ({ stations }: RecordView): Picture[] =>
  stations.flatMap(({ name, attempts }) =>
    attempts.flatMap(({ number, official, observations }) =>
      observations.flatMap(({ photoDigest, at, personId }) =>
        photoDigest === undefined ? [] : [{ photoDigest, station: name, number, official, at, personId }],
      ),
    ),
  )
