import { useEffect, useState } from 'preact/hooks'
import type { Role } from '@musterbook/vocabulary/people'
import type { House } from '../house/house.ts'
import { looksLikeABadge } from '../house/scanner.ts'
import { refusalSays } from '../house/sentence.ts'
import { Choice, Field } from '../parts/field/field.tsx'
import { knownAtSite } from '../shell/badge-reader.tsx'
import { words } from '../words/words.ts'

interface Second {
  personId: string
  pin: string
}

interface Props {
  house: House
  value: Second
  onChange: (second: Second) => void
  error?: string | undefined
}

/** A second, different person agrees with their own PIN, on this device. */
export function SecondPerson({ house, value, onChange, error }: Props) {
  const [people, set] = useState<readonly { personId: string; name: string; roles: Role[] }[]>([])
  const [refused, refuse] = useState<string | undefined>(undefined)
  const { record } = words.supervisor
  const me = house.session.value?.person?.personId
  useEffect(() => {
    void house.api.get<{ personId: string; name: string; roles: Role[] }[]>('/api/session/people').then((heard) => {
      if (heard.said === 'recorded') set(heard.body)
    })
  }, [house])
  const mayAgree = people.filter(
    ({ personId, roles }) => personId !== me && roles.some((role) => role === 'supervisor' || role === 'coordinator' || role === 'safety'),
  )
  const read = async (typed: string) => {
    if (!looksLikeABadge(typed)) return
    onChange({ ...value, pin: '' })
    const found = await knownAtSite(house, typed.toUpperCase())
    if ('rule' in found) {
      const { says, next } = refusalSays(found)
      return refuse(`${says} ${next}`)
    }
    const fits = mayAgree.some(({ personId }) => personId === found.personId)
    refuse(fits ? undefined : record.secondOther(found.name))
    if (fits) onChange({ personId: found.personId, pin: '' })
  }
  return (
    <div class="supervisor-pair">
      <Choice
        label={record.second}
        hint={record.secondHelp}
        value={value.personId}
        blank={record.chooseSecond}
        choices={mayAgree.map(({ personId, name }) => ({ value: personId, says: name }))}
        onChange={(personId) => onChange({ ...value, personId })}
        error={error}
      />
      <Field
        label={record.secondPin}
        hint={record.secondBadge}
        error={refused}
        type="password"
        inputMode="numeric"
        autoComplete="off"
        value={value.pin}
        onInput={(pin) => onChange({ ...value, pin })}
        onEnter={(typed) => void read(typed)}
      />
    </div>
  )
}
