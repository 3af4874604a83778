import { randomInt } from 'node:crypto'
import type { BadgeNumber, PersonId, StationId } from '@musterbook/vocabulary/ids'
import type { Office, Person, Said, Told } from '@musterbook/vocabulary/office'
import { PeopleEvent, type Qualification } from '@musterbook/vocabulary/office-events'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { Role } from '@musterbook/vocabulary/people'
import { type Book, book } from './book.ts'
import { changedSince } from './changed-since.ts'
import type { Desk } from './desk.ts'
import { hashPin, isTooSimple, pinFits } from './pins.ts'
import { type Limit, tries } from './tries.ts'
import { having } from './with.ts'

interface Listed {
  roles: readonly Role[]
  qualifications: readonly Qualification[]
  pin: Person['pin']
  left: boolean
  badge: BadgeNumber | null
  badgesTakenBack: readonly BadgeNumber[]
}
type State = ReadonlyMap<PersonId, Listed>
export type PeopleBook = Book<State, PeopleEvent>

export const peopleBook = (desk: Desk): PeopleBook =>
  book<State, PeopleEvent>(desk, { name: 'people', schema: PeopleEvent, empty: new Map(), evolve })

function evolve(state: State, event: PeopleEvent): State {
  const known = state.get(event.personId) ?? nobodyYet
  const change = (changes: Partial<Listed>): State => having(state, event.personId, { ...known, ...changes })
  switch (event.type) {
    case 'personAdded':
    case 'rolesChanged':
      return change({ roles: event.roles })
    case 'qualified':
      return change({
        qualifications: [...otherThan(known.qualifications, event.stationId), { stationId: event.stationId, until: event.until }],
      })
    case 'qualificationEnded':
      return change({ qualifications: otherThan(known.qualifications, event.stationId) })
    case 'pinSet':
      return change({ pin: event.own ? 'own' : 'first' })
    case 'personLeft':
      return change({ left: true })
    case 'badgeMade':
      return change({ badge: event.badge, badgesTakenBack: badgesOf(known) })
    case 'badgeTakenBack':
      return change({ badge: null, badgesTakenBack: badgesOf(known) })
    case 'personRenamed':
      return state
  }
}

const nobodyYet: Listed = { roles: [], qualifications: [], pin: 'none', left: false, badge: null, badgesTakenBack: [] }

const badgesOf = ({ badge, badgesTakenBack }: Listed) => [...badgesTakenBack, ...(badge ? [badge] : [])]

const otherThan = (qualifications: readonly Qualification[], stationId: StationId) =>
  qualifications.filter((each) => each.stationId !== stationId)

type People = Pick<
  Office,
  | 'people'
  | 'person'
  | 'addPerson'
  | 'renamePerson'
  | 'changeRoles'
  | 'qualify'
  | 'endQualification'
  | 'setPin'
  | 'changeOwnPin'
  | 'letPersonGo'
  | 'makeBadges'
  | 'takeBadgeBack'
  | 'whoseBadge'
  | 'provePerson'
  | 'qualifiedFor'
>

/** Who works here, in which roles, qualified for which stations. Names and PINs lie beside the ledger. */
export function people(desk: Desk, book: PeopleBook, siteId: () => Promise<string>): People {
  const names = nameShelf(desk)
  const counted = tries(desk.people)

  const listed = async () => (await book.read(await siteId())).state
  const person = async (personId: PersonId): Promise<Person | null> => {
    const known = (await listed()).get(personId)
    const name = names.find(personId)?.name
    return known && name !== undefined ? { personId, name, ...known } : null
  }

  /** One event about somebody who is here. */
  const tell = async (
    act: string,
    body: { personId: PersonId },
    told: Told,
    event: PeopleEvent,
    changed: (state: State) => ReturnType<typeof changedSince> = () => undefined,
  ) => {
    const written = await book.write(await siteId(), act, body, told, (state) => refusalAbout(state, event) ?? changed(state) ?? [event])
    return 'refused' in written ? written : { personId: body.personId }
  }

  const keepPin = async (act: string, personId: PersonId, pin: string, own: boolean, told: Told): Promise<Said<{ personId: PersonId }>> => {
    if (isTooSimple(pin)) return officeRefusal('pinTooSimple')
    const hashed = await hashPin(desk, pin)
    const answer = await tell(act, { personId, pin, own } as { personId: PersonId }, told, { type: 'pinSet', personId, own })
    if (!('refused' in answer)) {
      names.keepPin(personId, hashed)
      counted.right([{ who: `person ${personId}`, free: 0, forgive: true }])
    }
    return answer
  }

  const provePerson: People['provePerson'] = async (personId, pin, deviceId) => {
    const known = await person(personId as PersonId)
    if (!known) return officeRefusal('noSuchPerson')
    if (known.left) return officeRefusal('personLeft')
    const kept = names.find(known.personId)
    if (!kept?.pinHash || !kept.pinSalt || !kept.pinCost) return officeRefusal('noPin')

    const limits: Limit[] = [
      { who: `person ${personId}`, free: 3, forgive: true },
      { who: `device ${deviceId}`, free: 10, forgive: false },
    ]
    const seconds = counted.take(limits, desk.now())
    if (seconds > 0) return officeRefusal('tooManyTries', { seconds })
    if (!(await pinFits(desk, pin, { pinHash: kept.pinHash, pinSalt: kept.pinSalt, pinCost: kept.pinCost })))
      return officeRefusal('wrongPin')
    counted.right(limits)
    return { person: known }
  }

  return {
    people: async () => {
      const all = await Promise.all([...(await listed()).keys()].map(person))
      return all.filter((each) => each !== null)
    },
    person,
    addPerson: async (body, told) => {
      if (body.pin !== null && isTooSimple(body.pin)) return officeRefusal('pinTooSimple')
      const personId = desk.newId('person') as PersonId
      names.keep(personId, body.name)
      if (body.pin !== null) names.keepPin(personId, await hashPin(desk, body.pin))
      const written = await book.write(await siteId(), 'addPerson', body, told, () => [
        { type: 'personAdded', personId, roles: body.roles },
        ...body.qualifications.map((each) => ({ type: 'qualified' as const, personId, ...each })),
        ...(body.pin === null ? [] : [{ type: 'pinSet' as const, personId, own: false }]),
      ])
      if ('refused' in written || written.toldTwice) names.forget(personId)
      return 'refused' in written ? written : { personId: written.events[0]?.personId ?? personId }
    },
    renamePerson: async (body, told) => {
      const named = { name: names.find(body.personId)?.name ?? '' }
      const answer = await tell('renamePerson', body, told, { type: 'personRenamed', personId: body.personId }, () =>
        changedSince(named, body.seen),
      )
      if (!('refused' in answer)) names.keep(body.personId, body.name)
      return answer
    },
    changeRoles: ({ seen, ...body }, told) =>
      tell('changeRoles', { ...body, ...(seen && { seen }) } as typeof body, told, { type: 'rolesChanged', ...body }, (state) =>
        changedSince({ roles: state.get(body.personId)?.roles ?? [] }, seen),
      ),
    qualify: (body, told) => tell('qualify', body, told, { type: 'qualified', ...body }),
    endQualification: (body, told) => tell('endQualification', body, told, { type: 'qualificationEnded', ...body }),
    setPin: ({ personId, pin }, told) => keepPin('setPin', personId, pin, false, told),
    changeOwnPin: async ({ oldPin, newPin }, told) => {
      if (told.by.personId === null) return officeRefusal('personNeeded')
      if (oldPin === newPin) return officeRefusal('pinSame')
      const proven = await provePerson(told.by.personId, oldPin, told.by.deviceId)
      return 'refused' in proven ? proven : keepPin('changeOwnPin', told.by.personId, newPin, true, told)
    },
    letPersonGo: (body, told) => tell('letPersonGo', body, told, { type: 'personLeft', personId: body.personId }),
    makeBadges: async (body, told) => {
      const written = await book.write(await siteId(), 'makeBadges', body, told, (state) => {
        for (const personId of body.personIds) {
          const known = state.get(personId)
          if (!known) return officeRefusal('noSuchPerson')
          if (known.left) return officeRefusal('personLeft')
        }
        const badges = newBadges([...state.values()].flatMap(badgesOf), body.personIds.length)
        return body.personIds.map((personId, at) => ({ type: 'badgeMade', personId, badge: badges[at]! }))
      })
      return 'refused' in written ? written : { made: written.events.length }
    },
    takeBadgeBack: async ({ personId }, told) => {
      const written = await book.write(await siteId(), 'takeBadgeBack', { personId }, told, (state) => {
        const badge = state.get(personId)?.badge
        return badge ? [{ type: 'badgeTakenBack', personId, badge }] : officeRefusal('noBadge')
      })
      return 'refused' in written ? written : { personId }
    },
    whoseBadge: async (read) => {
      for (const [personId, known] of await listed()) {
        if (known.badgesTakenBack.some((badge) => badge === read)) return officeRefusal('badgeTakenBack')
        if (known.badge !== read) continue
        if (known.left) return officeRefusal('badgeNotToday')
        if (known.pin === 'none') return officeRefusal('noPin')
        return { person: (await person(personId))! }
      }
      return officeRefusal('badgeUnknown')
    },
    provePerson,
    qualifiedFor: async (personId, date) =>
      ((await listed()).get(personId)?.qualifications ?? [])
        .filter(({ until }) => until === null || until >= date)
        .map(({ stationId }) => stationId),
  }
}

function refusalAbout(state: State, event: PeopleEvent) {
  const known = state.get(event.personId)
  if (!known) return officeRefusal('noSuchPerson')
  if (known.left) return officeRefusal('personLeft')
  const after = evolve(state, event)
  const coordinators = [...after.values()].filter(({ roles, left }) => roles.includes('coordinator') && !left)
  return coordinators.length === 0 ? officeRefusal('lastCoordinator') : undefined
}

/** By chance, so that nobody reads from one whom another names. */
function newBadges(known: readonly BadgeNumber[], count: number): BadgeNumber[] {
  const made = new Set<BadgeNumber>()
  while (made.size < count) {
    const badge = `B${String(randomInt(10_000_000)).padStart(7, '0')}` as BadgeNumber
    if (!known.includes(badge)) made.add(badge)
  }
  return [...made]
}

interface Row {
  name: string
  pinHash: Buffer | null
  pinSalt: Buffer | null
  pinCost: number | null
}

/** Names and PINs of people, by id. */
export function nameShelf({ people: store }: Desk) {
  const find = store.prepare('SELECT name, pinHash, pinSalt, pinCost FROM person WHERE personId = ?')
  const keep = store.prepare('INSERT INTO person (personId, name) VALUES (?, ?) ON CONFLICT (personId) DO UPDATE SET name = excluded.name')
  const keepPin = store.prepare('UPDATE person SET pinHash = ?, pinSalt = ?, pinCost = ? WHERE personId = ?')
  const forget = store.prepare('DELETE FROM person WHERE personId = ?')
  return {
    find: (personId: string) => find.get(personId) as Row | undefined,
    keep: (personId: string, name: string) => void keep.run(personId, name),
    keepPin: (personId: string, { pinHash, pinSalt, pinCost }: { pinHash: Buffer; pinSalt: Buffer; pinCost: number }) =>
      void keepPin.run(pinHash, pinSalt, pinCost, personId),
    forget: (personId: string) => void forget.run(personId),
  }
}
