import { useEffect, useState } from 'preact/hooks'
import { usualDeviceHours, type SignedOnHere } from '../house/facts.ts'
import type { House } from '../house/house.ts'
import { looksLikeABadge } from '../house/scanner.ts'
import { sentenceOf } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Field } from '../parts/field/field.tsx'
import { languages } from '../words/languages.ts'
import { words } from '../words/words.ts'
import type * as BadgeParts from './badge-reader.tsx'

/** Quick sign-on at a shared device: a name, a PIN, and whoever was here before is not any more. */
export function SignOn(props: { house: House; englishOnly: boolean; onDone: () => void }) {
  const { storage, lost } = props.house
  useEffect(() => void storage.test(), [storage])
  return (
    <>
      {lost.value ? <SignOnAlone {...props} /> : <SignOnWithPin {...props} />}
      {storage.state.value === 'mayBeCleared' && <p class="quiet">{words.shell.mayBeCleared}</p>}
    </>
  )
}

/** Out of contact no PIN can be checked, and nothing is kept here to check one with: who was here today says who they are. */
function SignOnAlone({ house, onDone }: { house: House; onDone: () => void }) {
  const badges = useBadges()
  if (house.forgotten.value)
    return (
      <EmptyState says={words.shell.forgotten} help={words.shell.forgottenHelp(house.outbox.unsent.value + house.outbox.troubled.value)} />
    )
  const people = house.mayReturn()
  if (people.length === 0) return <EmptyState says={words.shell.signOnAloneNobody} help={words.shell.signOnAloneNobodyHelp} />
  const signOn = (person: SignedOnHere) => {
    house.signOnOutOfContact(person)
    onDone()
  }
  return (
    <section class="stack">
      <h2>{words.shell.signOnAloneTitle}</h2>
      <p>{words.shell.signOnAlone(house.day.value?.deviceHours ?? usualDeviceHours)}</p>
      {badges && <badges.BadgeReader house={house} whose={badges.knownHere} onPerson={signOn} />}
      <ul class="names">
        {people.map((person) => (
          <li key={person.personId}>
            <Button wide onPress={() => signOn(person)}>
              {person.name}
            </Button>
          </li>
        ))}
      </ul>
    </section>
  )
}

function SignOnWithPin({ house, englishOnly, onDone }: { house: House; englishOnly: boolean; onDone: () => void }) {
  const [names, setNames] = useState<readonly BadgeParts.Named[]>([])
  const [person, choose] = useState<BadgeParts.Named | undefined>(undefined)
  const [pin, type] = useState('')
  const [wrong, setWrong] = useState<string | undefined>(undefined)
  const [busy, setBusy] = useState(false)
  const [badge, setBadge] = useState<string | undefined>(undefined)
  const badges = useBadges()
  useEffect(() => {
    void house.api.get<BadgeParts.Named[]>('/api/session/people').then((heard) => {
      if (heard.said === 'recorded') setNames(heard.body)
    })
  }, [])

  const ask = (person: BadgeParts.Named | undefined, badge?: string) => {
    choose(person)
    setBadge(badge)
    type('')
    setWrong(undefined)
  }
  const signOn = async () => {
    if (!person || busy) return
    if (badges && looksLikeABadge(pin)) return ask(undefined, pin)
    setBusy(true)
    const said = await house.api.post('/api/session', { personId: person.personId, pin })
    setBusy(false)
    type('')
    if (said.said === 'recorded') {
      await house.refreshSession()
      onDone()
    } else setWrong(sentenceOf(said))
  }

  if (!person)
    return (
      <section class="stack">
        <h2>{words.shell.signOnTitle}</h2>
        <p>{words.shell.signOnHelp}</p>
        {englishOnly &&
          languages.map(
            ({ language, direction, englishOnly: says }) =>
              says && (
                <p key={language} class="quiet" lang={language} dir={direction}>
                  {says}
                </p>
              ),
          )}
        {badges && <badges.BadgeReader house={house} whose={badges.knownAtSite} read={badge} onPerson={ask} />}
        <ul class="names">
          {names.map((name) => (
            <li key={name.personId}>
              <Button wide onPress={() => ask(name)}>
                {name.name}
              </Button>
            </li>
          ))}
        </ul>
      </section>
    )
  return (
    <form
      class="stack narrow"
      ref={toThePin}
      onSubmit={(event) => {
        event.preventDefault()
        void signOn()
      }}
    >
      <h2>{person.name}</h2>
      <Field
        label={words.shell.pin}
        type="password"
        inputMode="numeric"
        value={pin}
        onInput={type}
        error={wrong}
        autoComplete="off"
        onEnter={() => void signOn()}
      />
      <div class="row">
        <Button type="submit" kind="primary" busy={busy}>
          {words.shell.signOn}
        </Button>
        <Button onPress={() => ask(undefined)}>{words.shell.otherName}</Button>
      </div>
    </form>
  )
}

/** Read by few and at once by nobody: it comes after the names. */
function useBadges(): typeof BadgeParts | null {
  const [parts, load] = useState<typeof BadgeParts | null>(null)
  useEffect(() => void import('./badge-reader.tsx').then(load, () => undefined), [])
  return parts
}

/** Whoever chose a name types next. */
const toThePin = (form: HTMLFormElement | null) => form?.querySelector('input')?.focus()
