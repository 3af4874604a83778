import { useState } from 'preact/hooks'
import type { Supposition } from '@musterbook/replay/what-if'
import { normTableProblems, type NormTable } from '@musterbook/scoring/norms'
import { protocolProblems, type Protocol } from '@musterbook/stations/protocol'
import type { Offer } from '@musterbook/vocabulary/office'
import { PinnedProtocol } from '@musterbook/vocabulary/rules'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice } from '../parts/field/field.tsx'
import { FileDrop } from '../parts/file-drop/file-drop.tsx'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'

export type SupposedRule = Extract<Supposition, { kind: 'norms' | 'protocol' }>

interface Props {
  desk: Desk
  onSuppose: (rules: readonly SupposedRule[]) => void
}

/** Another norm table or another version of a protocol: one that is offered here, or a file that somebody drafts. */
export function SupposeRules({ desk, onSuppose }: Props) {
  const offers = useFetched<Offer[]>(desk.house, '/api/office/rules')
  const [chosen, choose] = useState('')
  const [isWrong, setWrong] = useState(false)
  const { whatIf: say } = words.replay
  const offered = (offers.value ?? []).filter(({ kind }) => kind === 'norms' || kind === 'protocol')
  const key = ({ kind, id, edition }: Offer) => `${kind} ${id} ${edition}`
  const add = (content: unknown) => {
    const read = rulesIn(content)
    setWrong(read.length === 0)
    if (read.length > 0) onSuppose(read)
  }
  const readFile = async (file: File) => {
    try {
      add(JSON.parse(await file.text()))
    } catch {
      setWrong(true)
    }
  }
  return (
    <section class="sheet stack" aria-label={say.norms}>
      <h3>{say.norms}</h3>
      <p>{say.normsHelp}</p>
      <Choice
        label={say.table}
        value={chosen}
        blank={words.supervisor.replay.any}
        choices={offered.map((one) => ({ value: key(one), says: `${one.name} (${one.edition})` }))}
        onChange={choose}
      />
      <Button onPress={() => chosen && add(offered.find((one) => key(one) === chosen)?.content)}>{say.addNorms}</Button>
      <FileDrop label={say.file} endings={['.json']} maxBytes={1_000_000} onFile={(file) => void readFile(file)} />
      <p role="status" class="field-error">
        {isWrong ? say.notATable : ''}
      </p>
    </section>
  )
}

/** 'FX-2 (run)', 'agility version 2': what a study says that it supposed. */
export const ruleName = (rule: SupposedRule): string =>
  rule.kind === 'norms' ? `${rule.table.id} (${rule.table.test})` : `${rule.protocol.protocolId} version ${rule.protocol.version}`

/** One table or protocol, a list of them, or the set that an offer holds. */
function rulesIn(content: unknown): SupposedRule[] {
  const listed = Array.isArray(content)
    ? content
    : Array.isArray((content as { tables?: unknown } | null)?.tables)
      ? (content as { tables: unknown[] }).tables
      : [content]
  return listed.flatMap((one): SupposedRule[] => {
    if (isTable(one)) return [{ kind: 'norms', table: one }]
    return isProtocol(one) ? [{ kind: 'protocol', protocol: one as unknown as PinnedProtocol }] : []
  })
}

function isTable(one: unknown): one is NormTable {
  const table = one as Partial<NormTable> | null
  return (
    typeof table?.test === 'string' &&
    typeof table.id === 'string' &&
    Array.isArray(table.groups) &&
    holds(() => normTableProblems(table as NormTable))
  )
}

const isProtocol = (one: unknown): one is Protocol =>
  PinnedProtocol.safeParse(one).success && holds(() => protocolProblems(one as Protocol))

/** A file of somebody's own may lack anything. */
function holds(problems: () => readonly string[]): boolean {
  try {
    return problems().length === 0
  } catch {
    return false
  }
}
