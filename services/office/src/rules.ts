import { digest } from '@musterbook/evidence/canonical'
import { EmergencyCard } from '@musterbook/vocabulary/emergency-card'
import type { Offer, Office, ProposeAdoption } from '@musterbook/vocabulary/office'
import { type RuleKind, RulesEvent } from '@musterbook/vocabulary/office-events'
import { type OfficeRefusal, officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { PersonId } from '@musterbook/vocabulary/ids'
import type { z } from 'zod'
import { type Book, book } from './book.ts'
import { localDate } from './civil-date.ts'
import type { Desk } from './desk.ts'
import { differences } from './differences.ts'
import { type Offered, offeredFrom } from './offers.ts'
import { type ContentProblem, contentProblems } from './rule-content.ts'
import { readRuleFile, ruleFileText } from './rule-file.ts'
import { having, without } from './with.ts'

type Proposal = Omit<Extract<RulesEvent, { type: 'adoptionProposed' }>, 'type'>
/** What two people adopted: whole, so that no later edit of the offer reaches it. */
export interface InForce extends Proposal {
  adoptedBy: PersonId
  adoptedAt: number
}
export interface RulesState {
  proposals: ReadonlyMap<string, Proposal>
  inForce: ReadonlyMap<string, InForce>
  /** What was ever put in force: its edition stays taken. */
  past: readonly Proposal[]
}
export type RulesBook = Book<RulesState, RulesEvent>

export const rulesBook = (desk: Desk): RulesBook =>
  book<RulesState, RulesEvent>(desk, { name: 'rules', schema: RulesEvent, empty: noRules, evolve: evolveRules })

export const noRules: RulesState = { proposals: new Map(), inForce: new Map(), past: [] }

export function evolveRules(state: RulesState, event: RulesEvent, { recordedAt }: { recordedAt: number }): RulesState {
  switch (event.type) {
    case 'adoptionProposed': {
      const { type: _, ...proposal } = event
      return { ...state, proposals: having(state.proposals, event.proposalId, proposal) }
    }
    case 'adopted': {
      const proposal = state.proposals.get(event.proposalId)
      if (!proposal) return state
      const adopted = { ...proposal, adoptedBy: event.adoptedBy, adoptedAt: recordedAt }
      return {
        proposals: without(state.proposals, event.proposalId),
        inForce: having(state.inForce, keyOf(proposal), adopted),
        past: [...state.past, proposal],
      }
    }
    case 'proposalWithdrawn':
      return { ...state, proposals: without(state.proposals, event.proposalId) }
    case 'adoptionEnded':
      return { ...state, inForce: without(state.inForce, keyOf(event)) }
  }
}

const keyOf = ({ kind, id }: { kind: RuleKind; id: string }): string => `${kind} ${id}`

interface Needs {
  siteId(): Promise<string>
  timeZone(): Promise<string>
  nameOf(personId: PersonId): Promise<string>
  offers: readonly Offered[]
}
type Rules =
  'rules' | 'ruleFile' | 'previewRuleFile' | 'proposeAdoption' | 'confirmAdoption' | 'withdrawProposal' | 'endAdoption' | 'emergencyCard'

/** What is offered, what one person proposed, and what a second, different one put in force. */
export function rules(desk: Desk, book: RulesBook, { siteId, timeZone, nameOf, offers }: Needs): Pick<Office, Rules> {
  const offered = new Map(offers.map((offer) => [keyOf(offer), offer]))
  const stateNow = async () => (await book.read(await siteId())).state
  const shown = async () => everyOffer(await stateNow(), offers, await timeZone())

  return {
    rules: shown,
    ruleFile: async (kind, id, proposalId) => {
      const ofId = (await shown()).filter((each) => each.kind === kind && each.id === id)
      const offer = proposalId === null ? ofId[0] : ofId.find((each) => each.proposalId === proposalId)
      if (!offer) return null
      const writtenBy = offer.proposedBy === null ? offer.source : await nameOf(offer.proposedBy)
      const approvedBy = offer.adoptedBy === null ? null : await nameOf(offer.adoptedBy)
      return { name: `${kind}-${id.replaceAll('/', '-')}.json`, text: ruleFileText(offer, { writtenBy, approvedBy }) }
    },
    previewRuleFile: async (text) => {
      const read = readRuleFile(text)
      if ('refused' in read) return read
      const { kind, id, content, checksum, lineOf } = read
      const { offer, problems } = madeOf(read, await stateNow(), offered)
      const against = (await shown()).find((each) => keyOf(each) === keyOf(read)) ?? null
      return {
        kind,
        id,
        name: offer?.name ?? id,
        edition: offer?.edition ?? '',
        checksum,
        against: against && { state: against.state, edition: against.edition },
        differs: differences(against?.content ?? {}, content),
        problems: problems.map(({ path, says }) => ({ line: lineOf(['content', ...path]), says })),
        content,
      }
    },
    proposeAdoption: async (body, told) => {
      const proposedBy = told.by.personId
      if (proposedBy === null) return officeRefusal('personNeeded')
      const offer = await asked(body, stateNow, offered)
      if ('refused' in offer) return offer
      if (offer.problems.length > 0) return officeRefusal('notAdoptable', { problems: offer.problems.join('; ') })
      const contentDigest = digest(offer.content)
      const proposalId = desk.newId('proposal')
      const written = await book.write(await siteId(), 'proposeAdoption', body, told, ({ proposals, inForce }) => {
        if (inForce.get(keyOf(offer))?.contentDigest === contentDigest) return officeRefusal('alreadyInForce')
        if ([...proposals.values()].some((each) => each.contentDigest === contentDigest && keyOf(each) === keyOf(offer)))
          return officeRefusal('alreadyProposed')
        const { kind, id, edition, content } = offer
        return [{ type: 'adoptionProposed', proposalId, kind, id, edition, contentDigest, content, proposedBy }]
      })
      if ('refused' in written) return written
      const [event] = written.events
      return { proposalId: event?.type === 'adoptionProposed' ? event.proposalId : proposalId }
    },
    confirmAdoption: async ({ proposalId }, told) => {
      const adoptedBy = told.by.personId
      if (adoptedBy === null) return officeRefusal('personNeeded')
      const written = await book.write(await siteId(), 'confirmAdoption', { proposalId }, told, ({ proposals }) => {
        const proposal = proposals.get(proposalId)
        if (!proposal) return officeRefusal('noSuchProposal')
        if (proposal.proposedBy === adoptedBy) return officeRefusal('secondPersonSame')
        return [{ type: 'adopted', proposalId, adoptedBy }]
      })
      return 'refused' in written ? written : { proposalId }
    },
    withdrawProposal: async ({ proposalId }, told) => {
      const written = await book.write(await siteId(), 'withdrawProposal', { proposalId }, told, ({ proposals }) =>
        proposals.has(proposalId) ? [{ type: 'proposalWithdrawn', proposalId }] : officeRefusal('noSuchProposal'),
      )
      return 'refused' in written ? written : { proposalId }
    },
    endAdoption: async (body, told) => {
      const written = await book.write(await siteId(), 'endAdoption', body, told, ({ inForce }) =>
        inForce.has(keyOf(body)) ? [{ type: 'adoptionEnded', ...body }] : officeRefusal('notInForce'),
      )
      return 'refused' in written ? written : { id: body.id }
    },
    emergencyCard: async () => {
      const [adopted] = inForceOfKind(await stateNow(), 'emergencyCard')
      if (!adopted) return null
      const { proposedBy, adoptedBy, adoptedAt, content } = adopted
      return { ...EmergencyCard.parse(content), proposedBy, adoptedBy, adoptedOn: localDate(adoptedAt, await timeZone()) }
    },
  }
}

/** Everything in force of one kind. */
export const inForceOfKind = ({ inForce }: RulesState, kind: RuleKind): InForce[] =>
  [...inForce.values()].filter((each) => each.kind === kind)

type Named = Pick<Proposal, 'kind' | 'id'>

/** What is proposed: an offer of the software, one with this site's hold rules, or a content from a file. */
async function asked(
  body: z.infer<typeof ProposeAdoption>,
  stateNow: () => Promise<RulesState>,
  offered: ReadonlyMap<string, Offered>,
): Promise<Offered | { refused: OfficeRefusal }> {
  if (body.content) {
    const { offer, problems } = madeOf({ ...body, content: body.content }, await stateNow(), offered)
    if (!offer || problems.length > 0) return officeRefusal('notAdoptable', { problems: problems.map(({ says }) => says).join('; ') })
    return offer
  }
  const found = offered.get(keyOf(body))
  if (!found) return officeRefusal('noSuchOffer')
  return body.holdRules && found.withHoldRules ? found.withHoldRules(body.holdRules) : found
}

/** A content of the site's own, as it would be offered, with all that keeps it from being adopted. */
function madeOf(
  { kind, id, content }: Named & { content: Record<string, unknown> },
  state: RulesState,
  offered: ReadonlyMap<string, Offered>,
): { offer: Offered | undefined; problems: ContentProblem[] } {
  const problems = contentProblems(kind, content)
  if (problems.length > 0) return { offer: undefined, problems }
  const offer = offeredFrom[kind](content as never, id)
  if (offer.id !== id) return { offer, problems: [{ path: [], says: `the file is of ${id} and its content of ${offer.id}` }] }
  if (!isEditionTaken(offer, state, offered)) return { offer, problems }
  const path = kind === 'protocol' ? ['version'] : kind === 'norms' ? ['tables', 0, 'edition'] : ['edition']
  const says = `${offer.edition} is known here with other content: a changed one needs an edition of its own`
  return { offer, problems: [{ path, says }] }
}

/** Two contents under one edition could never be told apart on a result. */
function isEditionTaken(offer: Offered, { proposals, inForce, past }: RulesState, offered: ReadonlyMap<string, Offered>): boolean {
  const mine = digest(offer.content)
  const ofCode = offered.get(keyOf(offer))
  const known = [...proposals.values(), ...inForce.values(), ...past].filter((each) => keyOf(each) === keyOf(offer))
  return [...known, ...(ofCode && !isTableOf(ofCode, offer) ? [{ ...ofCode, contentDigest: digest(ofCode.content) }] : [])].some(
    ({ edition, contentDigest }) => edition === offer.edition && contentDigest !== mine,
  )
}

/** A published heat table and the same with a site's hold rules are one edition. */
const isTableOf = (ofCode: Offered, offer: Offered): boolean =>
  ofCode.withHoldRules !== undefined &&
  Object.entries(ofCode.content).every(([name, value]) => digest(value) === digest(offer.content[name] ?? null))

/** Everything there is to see: of each rule what is in force, else what is offered; and whatever is proposed in its place. */
function everyOffer({ proposals, inForce }: RulesState, offers: readonly Offered[], timeZone: string): Offer[] {
  const offered = new Map(offers.map((offer) => [keyOf(offer), offer]))
  const waiting = [...proposals.values()]
  const keys = new Set([...offered.keys(), ...inForce.keys(), ...waiting.map(keyOf)])
  return [...keys].flatMap((key): Offer[] => {
    const [adopted, offer] = [inForce.get(key), offered.get(key)]
    const proposed = waiting.filter((proposal) => keyOf(proposal) === key)
    const stands = adopted ? [inForceOf(adopted, timeZone)] : offer && proposed.length === 0 ? [notInForce(offer)] : []
    return [...stands, ...proposed.map((proposal) => proposedOf(proposal, adopted))]
  })
}

/** As its own content says; one of an older software may say it in a way that is read no more. */
function saidOf({ kind, id, content }: Proposal): Pick<Offered, 'name' | 'source' | 'invented'> {
  if (contentProblems(kind, content).some(({ path }) => path.length > 0)) return { name: id, source: '', invented: false }
  const { name, source, invented } = offeredFrom[kind](content as never, id)
  return { name, source, invented }
}

function notInForce({ kind, id, edition, name, source, invented, problems, content }: Offered): Offer {
  const nobody = { proposalId: null, proposedBy: null, adoptedBy: null, adoptedOn: null, replaces: null }
  return {
    kind,
    id,
    edition,
    name,
    source,
    invented,
    problems: [...problems],
    content,
    contentDigest: digest(content),
    state: 'offered',
    ...nobody,
  }
}

function proposedOf(proposal: Proposal, adopted: InForce | undefined): Offer {
  const replaces = adopted ? { edition: adopted.edition, differs: differences(adopted.content, proposal.content) } : null
  return { ...proposal, ...saidOf(proposal), problems: [], state: 'proposed', adoptedBy: null, adoptedOn: null, replaces }
}

function inForceOf({ adoptedAt, ...adopted }: InForce, timeZone: string): Offer {
  return { ...adopted, ...saidOf(adopted), problems: [], state: 'inForce', adoptedOn: localDate(adoptedAt, timeZone), replaces: null }
}
