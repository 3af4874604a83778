import { keepText } from './kept-text.ts'
import { computed, effect, signal, type ReadonlySignal, type Signal } from '@preact/signals'
import type { SessionAnswer } from '@musterbook/gateway/routes/session'
import type { KeptBy } from '@musterbook/vocabulary/kept-act'
import type { Facts, SignedOn, SignedOnHere } from './facts.ts'

/** Who works at this device, in contact and out of it. */
export interface SignedOnPerson {
  /** undefined until first heard, or remembered. */
  session: ReadonlySignal<SessionAnswer | undefined>
  /** By a PIN that the site proved, or chosen here out of contact; null while nobody is. */
  signedOn: ReadonlySignal<SignedOn>
  /** Is the site in contact and does not know, or no longer, who works here? Then it asks for the PIN; what happened is told all the same. */
  pinDue: ReadonlySignal<boolean>
  by(): KeptBy
  /** What the site said of this device. True: it holds a session that is not ours any more, and is to end it. */
  hear(answer: SessionAnswer): { endTheirs: boolean }
  /** Those who proved themselves here within the day's hours. */
  mayReturn(now: number, hours: number): readonly SignedOnHere[]
  signOnOutOfContact(person: SignedOnHere): void
  signOff(): void
  /** The day's hours are over: nobody works here, and nobody may come back without a PIN. */
  forget(): void
}

interface Parts {
  lost: ReadonlySignal<boolean>
  /** The site's time, once it was asked. */
  siteTime: () => Promise<number>
  remember(name: 'session', fact: Facts['session']): void
  rememberHere(people: readonly SignedOnHere[]): void
}

const touches = ['pointerdown', 'keydown'] as const
const touchedKey = 'musterbook.touchedAt'

export function openSignedOn({ lost, siteTime, remember, rememberHere }: Parts, facts: Promise<Partial<Facts>>): SignedOnPerson {
  const session: Signal<SessionAnswer | undefined> = signal(undefined)
  const signedOn = signal<SignedOn>(null)
  const proven = signal(false)
  let here: readonly SignedOnHere[] = []
  let touchedAt = Number(localStorage.getItem(touchedKey) ?? 0)
  /** The site has not seen the hands on this device since it last said who works here. */
  let unseen = false
  let signedOffAlone = false

  const touch = () => {
    touchedAt = Date.now()
    keepText(touchedKey, String(touchedAt))
  }
  for (const sign of touches) document.addEventListener(sign, touch)
  const handsWithin = (ms: number) => Date.now() - touchedAt < ms

  const set = (answer: SessionAnswer, how: SignedOn, isProven: boolean) => {
    if (JSON.stringify(answer) !== JSON.stringify(session.peek())) session.value = answer
    signedOn.value = answer.person ? how : null
    proven.value = isProven
    remember('session', { answer, signedOn: signedOn.peek() })
  }
  const cameHere = async ({ personId, name, roles, qualifiedFor, badge }: NonNullable<SessionAnswer['person']>) => {
    touch()
    const at = await siteTime()
    await facts
    here = [...here.filter((one) => one.personId !== personId), { personId, name, roles, qualifiedFor, badge, at }]
    rememberHere(here)
  }
  const lock = () => {
    const known = session.peek()
    if (known?.person) set({ ...known, person: null }, null, false)
  }

  void facts.then((known) => {
    here = known.signedOnHere ?? []
    if (session.peek() || !known.session) return
    unseen = true
    const { answer, signedOn: how } = known.session
    set(handsWithin(answer.lockAfterMs) ? answer : { ...answer, person: null }, how, false)
  })
  effect(() => {
    if (lost.value) unseen = true
  })
  setInterval(() => {
    const known = session.peek()
    if (known?.person && !proven.peek() && !handsWithin(known.lockAfterMs)) lock()
    else if (known?.person && lost.peek() && !handsWithin(known.lockAfterMs)) lock()
  }, 5_000)

  return {
    session,
    signedOn,
    pinDue: computed(() => !lost.value && session.value?.person != null && !proven.value),
    by: () => ({ personId: session.peek()?.person?.personId ?? null, signedOn: session.peek()?.person ? signedOn.peek() : null }),
    hear(answer) {
      const known = session.peek()
      const mine = known?.device?.deviceId === answer.device?.deviceId ? known?.person : undefined
      if (answer.person) {
        const isOther =
          signedOffAlone || (mine && !proven.peek() && signedOn.peek() === 'outOfContact' && mine.personId !== answer.person.personId)
        if (isOther) return { endTheirs: true }
        if (mine?.personId !== answer.person.personId || !proven.peek()) void cameHere(answer.person)
        unseen = false
        set(answer, 'withPin', true)
        return { endTheirs: false }
      }
      signedOffAlone = false
      if (answer.device?.locked) {
        here = []
        rememberHere(here)
        set(answer, null, false)
        return { endTheirs: false }
      }
      // A server that has started anew has forgotten, and one that was out of reach has not seen the hands: the work goes on.
      const goesOn = mine && handsWithin(answer.lockAfterMs) && (unseen || !proven.peek() || known!.run !== answer.run)
      if (goesOn) set({ ...answer, person: mine }, signedOn.peek(), false)
      else set(answer, null, false)
      return { endTheirs: false }
    },
    mayReturn: (at, hours) => here.filter((one) => at - one.at < hours * 3_600_000),
    signOnOutOfContact({ personId, name, roles, qualifiedFor, badge = null }) {
      const known = session.peek()
      if (!known?.device) return
      touch()
      signedOffAlone = false
      const person = { personId, name, roles, qualifiedFor, pin: 'own', badge } as SessionAnswer['person']
      set({ ...known, person }, 'outOfContact', false)
    },
    signOff() {
      signedOffAlone = lost.peek()
      lock()
    },
    forget() {
      here = []
      rememberHere(here)
      signedOffAlone = lost.peek()
      const known = session.peek()
      // Remembered anew, so that the device itself is known after it was started again.
      if (known) set({ ...known, person: null }, null, false)
    },
  }
}
