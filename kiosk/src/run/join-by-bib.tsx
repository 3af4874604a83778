import { useState } from 'preact/hooks'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { words } from '../words/words.ts'

interface Props {
  bibs: Record<string, string>
  onJoin: (studentId: string, bib: string) => Promise<unknown>
}

/** Somebody stands at the track who never pressed anything: they join its line by their bib. */
export function JoinByBib({ bibs, onJoin }: Props) {
  const [open, setOpen] = useState(false)
  return (
    <div>
      <Button onPress={() => setOpen(true)}>{words.run.join}</Button>
      <Dialog title={words.run.joinTitle} open={open} onClose={() => setOpen(false)}>
        <NumberPad
          label={words.run.joinLabel}
          unit=""
          places={0}
          most={4}
          save={words.run.joinBib}
          listening
          question={(bib) => (bibs[String(bib)] ? undefined : words.shell.noSuchBib)}
          onSave={(bib) => {
            const studentId = bibs[String(bib)]
            if (!studentId) return
            setOpen(false)
            void onJoin(studentId, String(bib))
          }}
        />
      </Dialog>
    </div>
  )
}
