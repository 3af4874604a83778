import { useEffect, useState } from 'preact/hooks'
import camera from 'lucide-static/icons/camera.svg?raw'
import type { House } from '../house/house.ts'
import type { SignedOnHere } from '../house/facts.ts'
import { useScanner } from '../house/scanner.ts'
import type { HeardRefusal } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Field } from '../parts/field/field.tsx'
import { RefusalNotice } from '../parts/refusal-notice/refusal-notice.tsx'
import { words } from '../words/words.ts'
import { CodeCamera } from './code-camera.tsx'

interface Props<Person> {
  house: House
  /** Asks who it names; a refusal where it names nobody here. */
  whose: (house: House, read: string) => Promise<Person | HeardRefusal>
  /** Typed by a scanner where a PIN was expected. */
  read?: string | undefined
  onPerson: (person: Person) => void
}

/** Chooses whoever the badge names: by a hand scanner wherever focus is but in a field, by the camera, or by its number. It proves nobody. */
export function BadgeReader<Person extends { personId: string }>({ house, whose, read, onPerson }: Props<Person>) {
  const [reading, setReading] = useState(false)
  const [noCamera, setNoCamera] = useState(!('mediaDevices' in navigator))
  const [number, type] = useState('')
  const [refusal, refuse] = useState<HeardRefusal | undefined>(undefined)
  const find = async (text: string) => {
    setReading(false)
    type('')
    const found = await whose(house, text.trim().toUpperCase().slice(0, 40))
    if ('rule' in found) refuse(found)
    else onPerson(found)
  }
  useScanner((text) => void find(text))
  useEffect(() => {
    if (read) void find(read)
  }, [read])
  return (
    <div class="stack">
      <div class="row">
        <Button icon={camera} onPress={() => setReading(true)}>
          {words.shell.readBadge}
        </Button>
      </div>
      {refusal && (
        <RefusalNotice refusal={refusal} title={words.shell.readBadge} stands="nowhere">
          <Button onPress={() => refuse(undefined)}>{words.common.close}</Button>
        </RefusalNotice>
      )}
      <Dialog title={words.shell.readBadge} open={reading} onClose={() => setReading(false)}>
        <div class="stack">
          {noCamera ? (
            <p role="alert">{words.shell.noCamera}</p>
          ) : (
            <CodeCamera help={words.shell.holdBadge} onCode={(code) => void find(code)} onNone={() => setNoCamera(true)} />
          )}
          <Field label={words.shell.badgeNumber} value={number} onInput={type} onEnter={find} autoComplete="off" maxLength={40} />
          <div class="row">
            <Button onPress={() => void find(number)}>{words.common.continue}</Button>
          </div>
        </div>
      </Dialog>
    </div>
  )
}

export interface Named {
  personId: string
  name: string
  roles: string[]
}

/** The site knows every badge, and which were taken back. */
export async function knownAtSite(house: House, read: string): Promise<Named | HeardRefusal> {
  const heard = await house.api.get<Named>(`/api/session/badges/${encodeURIComponent(read)}`)
  if (heard.said === 'recorded') return heard.body
  if (heard.said === 'refused') return heard.refusal
  return { rule: heard.said, params: {}, says: words.shell.notReached, next: words.shell.tryAgain, who: words.shell.anyone }
}

/** Out of contact a badge names those who proved themselves here and nobody else, as the list does. */
export async function knownHere(house: House, read: string): Promise<SignedOnHere | HeardRefusal> {
  const { badgeNotHere, signOnAloneNobodyHelp: next, anyone: who } = words.shell
  const found = house.mayReturn().find(({ badge }) => badge === read)
  return found ?? { rule: 'badgeNotHere', params: {}, says: badgeNotHere(read), next, who }
}
