import { digest } from '@musterbook/evidence/canonical'
import type { Offer, Office } from '@musterbook/vocabulary/office'
import { type RuleKind, RulesEvent } from '@musterbook/vocabulary/office-events'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import type { PersonId } from '@musterbook/vocabulary/ids'
import { type Book, book } from './book.ts'
import { localDate } from './civil-date.ts'
import type { Desk } from './desk.ts'
import type { Offered } from './offers.ts'
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
}
export type RulesBook = Book<RulesState, RulesEvent>

export const rulesBook = (desk: Desk): RulesBook =>
  book<RulesState, RulesEvent>(desk, { name: 'rules', schema: RulesEvent, empty: noRules, evolve: evolveRules })

export const noRules: RulesState = { proposals: new Map(), inForce: new Map() }

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
      return { proposals: without(state.proposals, event.proposalId), inForce: having(state.inForce, keyOf(proposal), adopted) }
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
  offers: readonly Offered[]
}

/** What is offered, what one person proposed, and what a second, different one put in force. */
export function rules(
  desk: Desk,
  book: RulesBook,
  { siteId, timeZone, offers }: Needs,
): Pick<Office, 'rules' | 'proposeAdoption' | 'confirmAdoption' | 'withdrawProposal' | 'endAdoption'> {
  const digests = new Map(offers.map((offer) => [keyOf(offer), digest(offer.content)]))

  return {
    rules: async () => {
      const { proposals, inForce } = (await book.read(await siteId())).state
      const zone = await timeZone()
      const shown = offers.map((offer) => offerOf(offer, digests.get(keyOf(offer)) ?? '', proposals, inForce, zone))
      // In force in an edition that this version of the software offers no more.
      const orphans = [...inForce.values()].filter((adopted) => !digests.has(keyOf(adopted)))
      return [...shown, ...orphans.map((adopted) => inForceOf(adopted, { name: adopted.id, source: '', invented: false }, zone))]
    },
    proposeAdoption: async (body, told) => {
      const proposedBy = told.by.personId
      if (proposedBy === null) return officeRefusal('personNeeded')
      const found = offers.find((each) => keyOf(each) === keyOf(body))
      if (!found) return officeRefusal('noSuchOffer')
      const offer = body.holdRules && found.withHoldRules ? found.withHoldRules(body.holdRules) : found
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
  }
}

/** Everything in force of one kind. */
export const inForceOfKind = ({ inForce }: RulesState, kind: RuleKind): InForce[] =>
  [...inForce.values()].filter((each) => each.kind === kind)

function offerOf(
  offer: Offered,
  contentDigest: string,
  proposals: ReadonlyMap<string, Proposal>,
  inForce: ReadonlyMap<string, InForce>,
  timeZone: string,
): Offer {
  const adopted = inForce.get(keyOf(offer))
  const proposal = [...proposals.values()].find((each) => keyOf(each) === keyOf(offer))
  // A newer edition that is proposed is shown as such, though the older one is still in force.
  if (adopted && (!proposal || adopted.contentDigest === contentDigest)) return inForceOf(adopted, offer, timeZone)
  const { kind, id, edition, name, source, invented, problems, content } = offer
  return {
    kind,
    id,
    edition,
    name,
    source,
    invented,
    problems: [...problems],
    content,
    contentDigest,
    state: proposal ? 'proposed' : 'offered',
    proposalId: proposal?.proposalId ?? null,
    proposedBy: proposal?.proposedBy ?? null,
    adoptedBy: null,
    adoptedOn: null,
  }
}

function inForceOf(adopted: InForce, said: Pick<Offered, 'name' | 'source' | 'invented'>, timeZone: string): Offer {
  const { kind, id, edition, content, contentDigest, proposalId, proposedBy, adoptedBy, adoptedAt } = adopted
  return {
    kind,
    id,
    edition,
    name: said.name,
    source: said.source,
    invented: said.invented,
    problems: [],
    state: 'inForce',
    proposalId,
    proposedBy,
    adoptedBy,
    adoptedOn: localDate(adoptedAt, timeZone),
    contentDigest,
    content,
  }
}
