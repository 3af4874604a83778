import { picturesOf, type Picture } from '@musterbook/day/views/pictures'
import type { RecordView } from '@musterbook/day/views/record'
import { digestOfBytes } from '@musterbook/evidence/canonical'

/** A picture for a sheet: its bytes, or why none can be shown. */
export type Printed = Picture & ({ dataUrl: string } | { no: 'notHere' | 'notIt' })
type Kept = { bytes: Uint8Array; mediaType: string } | null

/** The pictures of one record, each held against its digest: other bytes are not printed. */
export const printedPictures = (record: RecordView, kept: (photoDigest: string) => Promise<Kept>): Promise<Printed[]> =>
  Promise.all(picturesOf(record).map(async (picture) => ({ ...picture, ...looked(picture.photoDigest, await kept(picture.photoDigest)) })))

function looked(photoDigest: string, kept: Kept): { dataUrl: string } | { no: 'notHere' | 'notIt' } {
  if (!kept) return { no: 'notHere' }
  if (digestOfBytes(kept.bytes) !== photoDigest) return { no: 'notIt' }
  return { dataUrl: `data:${kept.mediaType};base64,${Buffer.from(kept.bytes).toString('base64')}` }
}

const no = {
  notHere: 'This picture is not here. The tablet that took it may still have it, or the record was erased.',
  notIt: 'This is not the picture that was recorded: its bytes give another digest.',
}

interface Props {
  pictures: readonly Printed[]
  time: (at: number) => string
  who: (personId: string) => string
}

/** Pictures taken beside this student’s readings, with the digest that the record names. */
export function Pictures({ pictures, time, who }: Props) {
  return (
    <>
      <h2>Pictures taken beside the readings</h2>
      {pictures.length === 0 && <p>None was taken.</p>}
      {pictures.map((picture) => (
        <figure key={`${picture.photoDigest} ${picture.at}`}>
          <figcaption>
            {picture.station}, {picture.official ? 'try' : 'practice'} {picture.number}, {time(picture.at)}
            {picture.personId && `, by ${who(picture.personId)}`}
          </figcaption>
          {'dataUrl' in picture ? <img src={picture.dataUrl} alt="Picture of the display or the bar" /> : <p>{no[picture.no]}</p>}
          <p class="digest">{picture.photoDigest}</p>
        </figure>
      ))}
    </>
  )
}
