import { useState } from 'preact/hooks'
import type { HeatHoldRules, Offer, Person } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { ConfirmDialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Mark, type State } from '../parts/mark/mark.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'
import { useFetched } from './fetched.ts'
import { HoldRulesDialog } from './hold-rules.tsx'
import { mayAsk } from './may.ts'
import { BringRule, Differences, fileAddress } from './rule-file.tsx'
import { Waits } from './waits.tsx'
import { WholeRule } from './whole-rule.tsx'
import { WriteCard } from './write-card.tsx'

const kinds = ['protocol', 'norms', 'heatPolicy', 'dayPolicy', 'healthQuestions', 'standard', 'recordsPolicy', 'emergencyCard'] as const
type Kind = (typeof kinds)[number]
const marks: Record<Offer['state'], State> = { offered: 'pending', proposed: 'waiting', inForce: 'met' }

/** What may be adopted, shown whole; proposed by one person and confirmed by another. */
export function Rules({ house }: { house: House }) {
  const rules = useFetched<Offer[]>(house, '/api/office/rules')
  const people = useFetched<Person[]>(house, '/api/office/people')
  const [kind, choose] = useState<Kind>('protocol')
  const { rules: say } = words.office
  if (!rules.value) return <Waits on={rules} />
  const offers = rules.value.filter((offer) => offer.kind === kind)
  const named = (personId: string | null) => people.value?.find((person) => person.personId === personId)?.name ?? personId ?? ''

  return (
    <section class="stack">
      <h2>{say.title}</h2>
      <p>{say.help}</p>
      {mayAsk(house, 'proposeAdoption') && <BringRule house={house} onDone={() => void rules.refresh()} />}
      <Tabs
        label={say.kind}
        value={kind}
        choices={kinds.map((value) => {
          const all = rules.value!.filter((offer) => offer.kind === value)
          return { value, says: say.kinds[value], detail: `${all.filter(({ state }) => state === 'inForce').length} / ${all.length}` }
        })}
        onChange={(value) => choose(value as Kind)}
      />
      {kind === 'emergencyCard' && <WriteCard house={house} offers={offers} onDone={() => void rules.refresh()} />}
      {offers.length === 0 ? (
        <EmptyState says={kind === 'emergencyCard' ? say.noCard : say.noneOffered} />
      ) : (
        <ul class="office-list">
          {offers.map((offer) => (
            <li key={`${offer.kind}.${offer.id}.${offer.proposalId ?? ''}`}>
              <Rule house={house} offer={offer} named={named} onDone={() => void rules.refresh()} />
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

interface RuleProps {
  house: House
  offer: Offer
  named: (personId: string | null) => string
  onDone: () => void
}

function Rule({ house, offer, named, onDone }: RuleProps) {
  const [open, setOpen] = useState(false)
  const [ending, end] = useState(false)
  const [holding, askHold] = useState(false)
  const { rules: say } = words.office
  const me = house.session.value?.person?.personId
  const mayChange = mayAsk(house, 'proposeAdoption')
  const isTable = offer.kind === 'heatPolicy' && !('raise' in offer.content)
  const problems = isTable ? offer.problems.slice(0, -1) : offer.problems
  const ask = async (what: string, noun: string, body: object) => {
    await askOffice(house, `${offer.name}: ${what}`, noun, body)
    onDone()
  }
  const propose = (holdRules?: HeatHoldRules) =>
    void ask(say.told.proposed, 'adoption-proposals', { kind: offer.kind, id: offer.id, ...(holdRules && { holdRules }) })

  return (
    <article class="sheet stack" aria-label={offer.name}>
      <div class="office-line">
        <h3>{offer.name}</h3>
        <Mark state={marks[offer.state]} says={say.states[offer.state]} />
      </div>
      <dl class="office-facts">
        <dt>{say.edition}</dt>
        <dd>{offer.edition}</dd>
        <dt>{say.source}</dt>
        <dd>{offer.source}</dd>
      </dl>
      {offer.invented && <p class="office-note">{say.invented}</p>}
      {problems.length > 0 && (
        <p class="office-problem">
          {say.problems}: {problems.join('; ')}
        </p>
      )}
      {offer.state === 'proposed' && (
        <p>
          {say.proposedBy(named(offer.proposedBy))}. {offer.proposedBy === me ? say.ownProposal : say.confirmHelp}
        </p>
      )}
      {offer.state === 'inForce' && <p>{say.adoptedBy(named(offer.proposedBy), named(offer.adoptedBy), offer.adoptedOn ?? '')}</p>}
      <div class="row">
        <Button label={`${open ? say.close : say.read}: ${offer.name}`} onPress={() => setOpen(!open)}>
          {open ? say.close : say.read}
        </Button>
        <a href={fileAddress(offer)} download aria-label={`${say.file.save}: ${offer.name}`}>
          {say.file.save}
        </a>
        {mayChange && offer.state === 'offered' && problems.length === 0 && (
          <Button label={`${say.propose}: ${offer.name}`} onPress={() => (isTable ? askHold(true) : propose())}>
            {say.propose}
          </Button>
        )}
        {mayChange && offer.state === 'proposed' && offer.proposedBy !== me && (
          <Button
            kind="primary"
            label={`${say.confirm}: ${offer.name}`}
            onPress={() => void ask(say.told.confirmed, 'adoptions', { proposalId: offer.proposalId })}
          >
            {say.confirm}
          </Button>
        )}
        {mayChange && offer.state === 'proposed' && (
          <Button
            label={`${say.withdraw}: ${offer.name}`}
            onPress={() => void ask(say.told.withdrawn, 'proposal-withdrawals', { proposalId: offer.proposalId })}
          >
            {say.withdraw}
          </Button>
        )}
        {mayChange && offer.state === 'inForce' && (
          <Button kind="quiet" label={`${say.end}: ${offer.name}`} onPress={() => end(true)}>
            {say.end}
          </Button>
        )}
      </div>
      {offer.replaces && <Differences of={offer.replaces.differs} caption={say.file.differsInForce(offer.replaces.edition)} />}
      {open && <WholeRule offer={offer} />}
      <ConfirmDialog
        title={say.end}
        open={ending}
        confirm={say.end}
        onClose={() => end(false)}
        onConfirm={() => {
          end(false)
          void ask(say.told.ended, 'adoption-ends', { kind: offer.kind, id: offer.id })
        }}
      >
        <p>{say.endSure(offer.name)}</p>
      </ConfirmDialog>
      {holding && (
        <HoldRulesDialog
          name={offer.name}
          unit={String(offer.content['unit'] ?? 'degC') as 'degC' | 'degF'}
          onClose={() => askHold(false)}
          onChosen={(holdRules) => {
            askHold(false)
            propose(holdRules)
          }}
        />
      )}
    </article>
  )
}
