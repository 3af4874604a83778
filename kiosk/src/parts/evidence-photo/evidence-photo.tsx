import { useEffect, useMemo, useState } from 'preact/hooks'
import cameraIcon from 'lucide-static/icons/camera.svg?raw'
import imageIcon from 'lucide-static/icons/image.svg?raw'
import { words } from '../../words/words.ts'
import { Button } from '../button/button.tsx'
import { Dialog } from '../confirm-dialog/confirm-dialog.tsx'
import { Icon } from '../icon/icon.tsx'
import './evidence-photo.css'

export interface TakePhotoProps {
  /** Taken already, for the value that is being entered. */
  taken: boolean
  /** What it should show; the display or the bar unless told. */
  of?: string | undefined
  onTake: (picture: File) => void
}

/** The tablet's own camera, or a picture that it has: of the display or the bar, not of a face. */
export function TakePhoto({ taken, of = words.evidence.noFace, onTake }: TakePhotoProps) {
  return (
    <label class="button take-photo">
      <Icon svg={cameraIcon} />
      <span class="button-words">
        <span class="button-word">{taken ? words.evidence.again : words.evidence.take}</span>
        <span class="button-detail">{taken ? words.evidence.taken : of}</span>
      </span>
      <input
        type="file"
        accept="image/*"
        capture="environment"
        class="take-photo-file"
        onChange={({ currentTarget }) => {
          const picture = currentTarget.files?.[0]
          currentTarget.value = ''
          if (picture) onTake(picture)
        }}
      />
    </label>
  )
}

/** One touch from a result to the picture that stands behind it, with its digest: whoever looks can compare. */
export function EvidencePhoto({ photoDigest }: { photoDigest: string | null | undefined }) {
  const [open, setOpen] = useState(false)
  if (!photoDigest) return null
  return (
    <>
      <Button size="small" icon={imageIcon} onPress={() => setOpen(true)}>
        {words.evidence.show}
      </Button>
      <Dialog title={words.evidence.show} open={open} onClose={() => setOpen(false)} wide>
        {open && <CheckedPicture photoDigest={photoDigest} />}
      </Dialog>
    </>
  )
}

/** The picture itself, held against its digest here before it is shown: other bytes are not the picture that was recorded. */
export function CheckedPicture({ photoDigest }: { photoDigest: string }) {
  const [picture, setPicture] = useState<Blob | 'notHere' | 'notIt' | undefined>(undefined)
  useEffect(() => {
    void fetched(photoDigest).then(setPicture)
  }, [photoDigest])
  const address = useMemo(() => (picture instanceof Blob ? URL.createObjectURL(picture) : undefined), [picture])
  useEffect(() => () => address && URL.revokeObjectURL(address), [address])
  return (
    <div class="stack">
      {typeof picture === 'string' && <p role={picture === 'notIt' ? 'alert' : 'status'}>{words.evidence[picture]}</p>}
      {address && <img class="evidence-photo" src={address} alt={words.evidence.alt} />}
      <p class="evidence-digest">{words.evidence.digest(photoDigest)}</p>
    </div>
  )
}

async function fetched(photoDigest: string): Promise<Blob | 'notHere' | 'notIt'> {
  try {
    // What the site holds now, not what this browser still keeps.
    const answer = await fetch(`/api/evidence/${photoDigest}`, { cache: 'no-store' })
    if (!answer.ok) return 'notHere'
    const picture = await answer.blob()
    const { digestOfBytes } = await import('@musterbook/evidence/canonical')
    return digestOfBytes(new Uint8Array(await picture.arrayBuffer())) === photoDigest ? picture : 'notIt'
  } catch {
    return 'notHere'
  }
}
