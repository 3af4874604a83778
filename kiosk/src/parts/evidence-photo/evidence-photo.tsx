import { useState } from 'preact/hooks'
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
  const [missing, miss] = useState(false)
  if (!photoDigest) return null
  return (
    <>
      <Button size="small" icon={imageIcon} onPress={() => setOpen(true)}>
        {words.evidence.show}
      </Button>
      <Dialog title={words.evidence.show} open={open} onClose={() => setOpen(false)} wide>
        {missing ? (
          <p role="status">{words.evidence.notHere}</p>
        ) : (
          <img class="evidence-photo" src={`/api/evidence/${photoDigest}`} alt={words.evidence.alt} onError={() => miss(true)} />
        )}
        <p class="evidence-digest">{words.evidence.digest(photoDigest)}</p>
      </Dialog>
    </>
  )
}
