import type { LedgerReader } from '@musterbook/ledger/ledger'
import type { SiteId } from '@musterbook/vocabulary/ids'
import { type RuleKind, RulesEvent } from '@musterbook/vocabulary/office-events'
import { evolveRules, inForceOfKind, noRules, type RulesState } from './rules.ts'

/** What is in force at a site, read from the ledger alone and read on at each question: for a process that has no office. */
export function rulesInForce(ledger: LedgerReader): (siteId: SiteId, kind: RuleKind) => Promise<unknown[]> {
  const kept = new Map<SiteId, { version: number; rules: RulesState }>()
  return async (siteId, kind) => {
    let at = kept.get(siteId) ?? { version: 0, rules: noRules }
    for await (const entry of ledger.read(`rules/${siteId}`, at.version)) {
      const rules = entry.events.reduce<RulesState>((before, event) => evolveRules(before, RulesEvent.parse(event), entry), at.rules)
      at = { version: entry.version, rules }
    }
    if (at.version >= (kept.get(siteId)?.version ?? 0)) kept.set(siteId, at)
    return inForceOfKind(at.rules, kind).map(({ content }) => content)
  }
}
