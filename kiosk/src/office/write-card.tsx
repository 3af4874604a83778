import { useState } from 'preact/hooks'
import { type EmergencyCard, emergencyCardId, emergencyCardLimits, type EmergencyCardWords } from '@musterbook/vocabulary/emergency-card'
import type { Offer } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Field } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'
import { mayAsk } from './may.ts'

interface Props {
  house: House
  /** The card in force and whatever is proposed in its place. */
  offers: readonly Offer[]
  onDone: () => void
}

/** A site writes its card here: no offer stands behind it, and nothing is filled in that nobody wrote. */
export function WriteCard({ house, offers, onDone }: Props) {
  const [writing, write] = useState(false)
  const { rules: say } = words.office
  const before = offers.at(-1)?.content as EmergencyCard | undefined
  return (
    <div class="row">
      {mayAsk(house, 'proposeAdoption') && <Button onPress={() => write(true)}>{before ? say.cardChange : say.cardWrite}</Button>}
      {offers.some(({ state }) => state === 'inForce') && (
        <a class="button" href="/sheets/emergency-card" target="_blank" rel="noreferrer">
          {say.cardPrint}
        </a>
      )}
      {writing && (
        <CardDialog
          before={before}
          onClose={() => write(false)}
          onWritten={async (content) => {
            write(false)
            await askOffice(house, say.told.proposed, 'adoption-proposals', { kind: 'emergencyCard', id: emergencyCardId, content })
            onDone()
          }}
        />
      )}
    </div>
  )
}

const names = Object.keys(emergencyCardLimits) as EmergencyCardWords[]
const oneLine: readonly EmergencyCardWords[] = ['writtenBy']
type Typed = Record<EmergencyCardWords | 'edition' | 'writtenOn', string>

interface DialogProps {
  before: EmergencyCard | undefined
  onClose: () => void
  onWritten: (card: EmergencyCard) => void
}

function CardDialog({ before, onClose, onWritten }: DialogProps) {
  const [typed, type] = useState(() => begun(before))
  const [missing, miss] = useState(false)
  const { rules: say, setUp } = words.office
  const set = (name: keyof Typed) => (value: string) => type({ ...typed, [name]: value })
  const propose = () => {
    const said = Object.fromEntries(Object.entries(typed).map(([name, value]) => [name, value.trim()])) as Typed
    if (Object.entries(said).some(([name, value]) => value === '' && name !== 'cooling')) return miss(true)
    onWritten({ ...said, cooling: said.cooling || null })
  }

  return (
    <Dialog
      title={say.cardTitle}
      open
      wide
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={propose}>
          {say.propose}
        </Button>
      }
    >
      <div class="stack">
        <p>{say.cardHelp}</p>
        <div class="office-form office-card">
          {names.map((name) => (
            <Field
              key={name}
              label={say.cardFields[name]}
              hint={say.cardHints[name]}
              optional={name === 'cooling'}
              long={!oneLine.includes(name)}
              maxLength={emergencyCardLimits[name]}
              value={typed[name]}
              onInput={set(name)}
            />
          ))}
          <Field label={say.cardWrittenOn} type="date" value={typed.writtenOn} onInput={set('writtenOn')} />
          <Field label={say.cardEdition} maxLength={40} value={typed.edition} onInput={set('edition')} />
        </div>
        {missing && (
          <p class="office-problem" role="alert">
            {setUp.missing}
          </p>
        )}
      </div>
    </Dialog>
  )
}

/** A newer card begins as the one before it, under the next number. */
const begun = (before: EmergencyCard | undefined): Typed => ({
  ...(Object.fromEntries(names.map((name) => [name, before?.[name] ?? ''])) as Record<EmergencyCardWords, string>),
  writtenOn: before?.writtenOn ?? '',
  edition: before ? String(Number(before.edition) + 1 || '') : '1',
})
