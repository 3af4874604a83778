import { useState } from 'preact/hooks'
import type { Supposition } from '@musterbook/replay/what-if'
import type { NormTable } from '@musterbook/scoring/norms'
import { normTableProblems } from '@musterbook/scoring/norms'
import type { Offer } from '@musterbook/vocabulary/office'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice } from '../parts/field/field.tsx'
import { FileDrop } from '../parts/file-drop/file-drop.tsx'
import { words } from '../words/words.ts'
import type { Desk } from './desk.ts'

interface Props {
  desk: Desk
  onSuppose: (suppositions: readonly Supposition[]) => void
}

/** Another norm table over the same day: one that is offered here, or a file that somebody drafts. */
export function SupposeNorms({ desk, onSuppose }: Props) {
  const offers = useFetched<Offer[]>(desk.house, '/api/office/rules')
  const [chosen, choose] = useState('')
  const [isWrong, setWrong] = useState(false)
  const { whatIf: say } = words.replay
  const tables = (offers.value ?? []).filter(({ kind }) => kind === 'norms')
  const add = (content: unknown) => {
    const read = tablesIn(content)
    setWrong(read.length === 0)
    if (read.length > 0) onSuppose(read.map((table) => ({ kind: 'norms', table })))
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
        choices={tables.map(({ id, name }) => ({ value: id, says: name }))}
        onChange={choose}
      />
      <Button onPress={() => chosen && add(tables.find(({ id }) => id === chosen)?.content)}>{say.addNorms}</Button>
      <FileDrop label={say.file} endings={['.json']} maxBytes={1_000_000} onFile={(file) => void readFile(file)} />
      <p role="status" class="field-error">
        {isWrong ? say.notATable : ''}
      </p>
    </section>
  )
}

/** One table, a list of them, or the set that an offer holds. */
function tablesIn(content: unknown): NormTable[] {
  const listed = Array.isArray(content)
    ? content
    : Array.isArray((content as { tables?: unknown } | null)?.tables)
      ? (content as { tables: unknown[] }).tables
      : [content]
  return listed.filter(isTable)
}

function isTable(one: unknown): one is NormTable {
  const table = one as Partial<NormTable> | null
  if (typeof table?.test !== 'string' || typeof table.id !== 'string' || !Array.isArray(table.groups)) return false
  try {
    return normTableProblems(table as NormTable).length === 0
  } catch {
    return false
  }
}
