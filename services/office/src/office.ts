import { randomBytes } from 'node:crypto'
import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Ledger } from '@musterbook/ledger/ledger'
import type { PersonId } from '@musterbook/vocabulary/ids'
import { type Office, officeActs, type Site } from '@musterbook/vocabulary/office'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import { RecordsPolicy } from '@musterbook/vocabulary/records'
import { cases } from './cases.ts'
import { composer } from './compose-day.ts'
import { readDayPolicy } from './day-policy.ts'
import type { Desk } from './desk.ts'
import { devices, devicesBook } from './devices.ts'
import { erasures, finishErasures } from './erasure.ts'
import { registers } from './enrolment.ts'
import { equipment, equipmentBook } from './equipment.ts'
import { health } from './health.ts'
import { HealthQuestionSet } from './health-questions.ts'
import { openKeys } from './keys.ts'
import { moveOlderFolder } from './older-folder.ts'
import { offers as allOffers, type Offered } from './offers.ts'
import { people, peopleBook } from './people.ts'
import { photos } from './photos.ts'
import { grantedRetests, openingsOfDays } from './retests.ts'
import { roster } from './roster/roster.ts'
import { inForceOfKind, rules, rulesBook } from './rules.ts'
import { setUp } from './set-up.ts'
import { medicalTables, openStore, peopleTables } from './store.ts'
import { students } from './students.ts'
import { texts } from './texts.ts'
import { venue, venueBook } from './venue.ts'

interface Options {
  ledger: Ledger
  /** Holds `people.sqlite` and `medical.sqlite`; made if it is not there. */
  dataFolder: string
  /** Outside the data folder and its backups; made if it is not there. Without it nothing sealed opens again. */
  keyFile: string
  /** The ledger's clock, epoch ms. */
  now: () => number
  /** A new id that begins with a word of its kind; chance unless a test or the demonstration says otherwise. */
  newId?: (kind: string) => string
  /** scrypt's N, a power of two. The default takes about a third of a second and 128 MiB. */
  pinCost?: number
  offers?: readonly Offered[]
}

const usualPinCost = 2 ** 17

/** Opens the office over its ledger streams and its two stores. Throws with a sentence when the key file does not fit the folder. */
export async function openOffice(options: Options): Promise<Office> {
  mkdirSync(options.dataFolder, { recursive: true, mode: 0o700 })
  const keys = openKeys(options.keyFile, options.dataFolder)
  const peopleStore = openStore(join(options.dataFolder, 'people.sqlite'), peopleTables, keys)
  try {
    const medicalStore = openStore(join(options.dataFolder, 'medical.sqlite'), medicalTables, keys)
    const desk: Desk = {
      ledger: options.ledger,
      people: peopleStore,
      medical: medicalStore,
      keys,
      now: options.now,
      newId: options.newId ?? ((kind) => `${kind}-${randomBytes(9).toString('hex')}`),
      pinCost: options.pinCost ?? usualPinCost,
    }
    const kept = registers(desk)
    await moveOlderFolder(desk, kept)
    await finishErasures(desk, kept)
    return inTurn(nounsOf(desk, options.offers ?? allOffers))
  } catch (error) {
    peopleStore.close()
    throw error
  }
}

function nounsOf(desk: Desk, offers: readonly Offered[]): Office {
  const books = {
    people: peopleBook(desk),
    devices: devicesBook(desk),
    venue: venueBook(desk),
    equipment: equipmentBook(desk),
    rules: rulesBook(desk),
  }
  const kept = registers(desk)
  const sealed = texts(desk)

  const site = siteFinder(async () => Promise.all((await books.venue.ids()).map(async (id) => (await books.venue.read(id)).state.site)))
  const siteId = async () => (await site())?.siteId ?? 'none'
  const timeZone = async () => (await site())?.timeZone ?? 'UTC'
  const rulesNow = async () => {
    const { version, state } = await books.rules.read(await siteId())
    return { version, inForce: (kind: Parameters<typeof inForceOfKind>[1]) => inForceOfKind(state, kind) }
  }
  const leapBirthday = async () => {
    const read = readDayPolicy((await rulesNow()).inForce('dayPolicy')[0]?.content)
    return 'policy' in read ? read.policy.leapBirthday : 'march1'
  }
  const questions = async () => HealthQuestionSet.safeParse((await rulesNow()).inForce('healthQuestions')[0]?.content).data ?? null

  const { allStudents, ...ofStudents } = students(desk, { registers: kept, texts: sealed, leapBirthday, timeZone })
  const ofPeople = people(desk, books.people, siteId)
  const nameOf = async (personId: PersonId) => (await ofPeople.person(personId))?.name ?? personId
  const ofVenue = venue(books.venue, siteId)
  const ofEquipment = equipment(books.equipment, siteId)
  const ofRules = rules(desk, books.rules, { siteId, timeZone, nameOf, offers })

  const ofCases = cases(desk, sealed)

  return {
    ...setUp(desk, books, site),
    site,
    ...ofPeople,
    ...devices(desk, books.devices, siteId),
    ...ofStudents,
    ...roster(desk, { registers: kept, allStudents, nameOf, timeZone }),
    ...photos(desk),
    ...ofVenue,
    ...ofEquipment,
    ...ofRules,
    composeDay: composer({
      site,
      ...ofVenue,
      ...ofEquipment,
      ...ofStudents,
      rules: rulesNow,
      emergencyCard: ofRules.emergencyCard,
      granted: grantedRetests(desk),
      openingOf: openingsOfDays(desk),
    }),
    ...ofCases,
    ...erasures(desk, { registers: kept, cases: ofCases.cases, timeZone }),
    recordsPolicy: async () => RecordsPolicy.safeParse((await rulesNow()).inForce('recordsPolicy')[0]?.content).data ?? null,
    seal: async (text, about, studentId) => sealed.seal(text, about, studentId),
    openText: async (textId) => sealed.open(textId, 'general'),
    ...health(desk, { texts: sealed, siteId, questions }),
    close: async () => {
      desk.people.close()
      desk.medical.close()
    },
  }
}

/** A site that stands is never asked for again: it does not move. */
function siteFinder(find: () => Promise<(Site | null)[]>): () => Promise<Site | null> {
  let known: Site | undefined
  return async () => {
    known ??= (await find()).find((each) => each !== null)
    return known ?? null
  }
}

/** Acts go one after another, so that what lies beside the ledger and what stands in it move together. Before the set-up there are none. */
function inTurn(office: Office): Office {
  let last: Promise<unknown> = Promise.resolve()
  const after = <T>(act: () => Promise<T>): Promise<T> => {
    const answer = last.then(act)
    last = answer.catch(() => undefined)
    return answer
  }
  const turned: Record<string, unknown> = { ...office }
  for (const name of Object.keys(officeActs) as (keyof typeof officeActs)[]) {
    const act = office[name] as (body: unknown, told: unknown) => Promise<unknown>
    turned[name] = (body: unknown, told: unknown) =>
      after(async () => ((await office.site()) === null ? officeRefusal('notSetUp') : act(body, told)))
  }
  return {
    ...(turned as unknown as Office),
    setUp: (body, told) => after(() => office.setUp(body, told)),
    enrolDevice: (code, told) => after(() => office.enrolDevice(code, told)),
    close: () => after(office.close),
  }
}
