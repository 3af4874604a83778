import { demoPolicy, type HeatPolicy, type HeatTable, policyProblems, tableProblems } from '@musterbook/heat/policies'
import { offeredTables } from '@musterbook/heat/published-tables'
import { demoNorms } from '@musterbook/scoring/demo-norms'
import { demoStandard } from '@musterbook/scoring/demo-standard'
import type { MinimumStandard } from '@musterbook/scoring/minimum-standard'
import { type NormTable, normTableProblems } from '@musterbook/scoring/norms'
import { publishedNorms } from '@musterbook/scoring/published-norms'
import { demoProtocols } from '@musterbook/stations/demo-protocols'
import { type Protocol, protocolProblems } from '@musterbook/stations/protocol'
import { type EmergencyCard, emergencyCardId } from '@musterbook/vocabulary/emergency-card'
import type { HealthQuestions, HeatHoldRules } from '@musterbook/vocabulary/office'
import type { RuleKind } from '@musterbook/vocabulary/office-events'
import type { RecordsPolicy } from '@musterbook/vocabulary/records'
import { type DayPolicy, demoDayPolicy } from './day-policy.ts'
import { demoHealthQuestions } from './health-questions.ts'
import { demoRecordsPolicy } from './records-policy.ts'

/** Something that a site may adopt. Offering it puts nothing in force. */
export interface Offered {
  kind: RuleKind
  id: string
  edition: string
  name: string
  source: string
  invented: boolean
  problems: readonly string[]
  content: Record<string, unknown>
  /** Of a published heat table: the same with the site's own hold rules. */
  withHoldRules?: (rules: HeatHoldRules) => Offered
}

const protocolOffer = (protocol: Protocol): Offered => ({
  kind: 'protocol',
  id: protocol.protocolId,
  edition: `version ${protocol.version}`,
  name: protocol.name,
  source: protocol.source,
  invented: protocol.invented,
  problems: protocolProblems(protocol),
  content: plain(protocol),
})

/** Tables of one edition may stand together: a site adopts them whole. */
const normsOffer = (id: string, name: string, tables: readonly NormTable[]): Offered => ({
  kind: 'norms',
  id,
  edition: tables[0]?.edition ?? '',
  name,
  source: tables[0]?.source ?? '',
  invented: tables.some(({ invented }) => invented),
  problems: tables.flatMap(normTableProblems),
  content: plain({ tables }),
})

const policyOffer = (policy: HeatPolicy): Offered => ({
  kind: 'heatPolicy',
  id: policy.id,
  edition: policy.edition,
  name: policy.id,
  source: policy.citation,
  invented: policy.terms === 'invented',
  problems: policyProblems(policy),
  content: plain(policy),
})

const tableOffer = (table: HeatTable): Offered => ({
  kind: 'heatPolicy',
  id: table.id,
  edition: table.edition,
  name: table.id,
  source: table.citation,
  invented: false,
  problems: [...tableProblems(table), 'say first when this site raises and lifts a hold'],
  content: plain(table),
  withHoldRules: (rules) => policyOffer({ ...table, ...rules }),
})

const dayPolicyOffer = (policy: DayPolicy): Offered => ({
  kind: 'dayPolicy',
  id: policy.id,
  edition: policy.edition,
  name: `Rules of the day ${policy.id}`,
  source: policy.source,
  invented: policy.edition.startsWith('invented'),
  problems: [],
  content: plain(policy),
})

const recordsPolicyOffer = (policy: RecordsPolicy): Offered => ({
  kind: 'recordsPolicy',
  id: policy.id,
  edition: policy.edition,
  name: `Rules of records ${policy.id}`,
  source: policy.source,
  invented: policy.edition.startsWith('invented'),
  problems: [],
  content: plain(policy),
})

const standardOffer = (standard: MinimumStandard): Offered => ({
  kind: 'standard',
  id: standard.id,
  edition: standard.edition,
  name: `Minimum standard ${standard.id}`,
  source: standard.source,
  invented: standard.invented,
  problems: [],
  content: plain(standard),
})

const healthQuestionsOffer = (questions: HealthQuestions): Offered => ({
  kind: 'healthQuestions',
  id: questions.id,
  edition: questions.edition,
  name: `Health questions ${questions.id}`,
  source: `${questions.wordingBy}, ${questions.wordingOn}`,
  invented: questions.invented,
  problems: [],
  content: plain(questions),
})

/** Never offered by the software: what stands on the card is the site's own. */
const emergencyCardOffer = (card: EmergencyCard): Offered => ({
  kind: 'emergencyCard',
  id: emergencyCardId,
  edition: card.edition,
  name: 'Emergency card',
  source: `${card.writtenBy}, ${card.writtenOn}`,
  invented: false,
  problems: [],
  content: plain(card),
})

/** A content of a site's own, as it would be offered. What is wrong with it is asked first: `contentProblems`. */
export const offeredFrom: { [Kind in RuleKind]: (content: never, id: string) => Offered } = {
  protocol: protocolOffer,
  norms: ({ tables }: { tables: readonly NormTable[] }, id) => {
    const [table] = tables
    return normsOffer(id, tables.length === 1 && table ? `${table.test}, ${table.edition}` : id, tables)
  },
  heatPolicy: (content: HeatTable | HeatPolicy) => ('raise' in content ? policyOffer(content) : tableOffer(content)),
  standard: standardOffer,
  dayPolicy: dayPolicyOffer,
  recordsPolicy: recordsPolicyOffer,
  healthQuestions: healthQuestionsOffer,
  emergencyCard: emergencyCardOffer,
}

/** Everything that this version of the software offers for adoption: the demonstration's own, which say so, and what is published. */
export const offers: readonly Offered[] = [
  ...demoProtocols.map(protocolOffer),
  normsOffer('FX-1', 'FX-1, invented', demoNorms),
  ...publishedNorms.map((table) => normsOffer(table.id, `${table.test}, ${table.edition}`, [table])),
  policyOffer(demoPolicy),
  ...offeredTables.map(tableOffer),
  standardOffer(demoStandard),
  dayPolicyOffer(demoDayPolicy),
  recordsPolicyOffer(demoRecordsPolicy),
  healthQuestionsOffer(demoHealthQuestions),
]

/** As it will come back from the ledger: what is absent is left out. */
function plain(value: object): Record<string, unknown> {
  return JSON.parse(JSON.stringify(value)) as Record<string, unknown>
}
