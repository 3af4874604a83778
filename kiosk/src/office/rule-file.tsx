import { useState } from 'preact/hooks'
import type { Difference, Offer, RuleFilePreview } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { sentenceOf } from '../house/sentence.ts'
import { understand, type Outcome } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { FileDrop } from '../parts/file-drop/file-drop.tsx'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'

/** What the gateway takes. */
const mostBytes = 256 * 1024

/** A rule that was changed outside: looked at field by field, then proposed as a new draft version. Nothing is saved by looking. */
export function BringRule({ house, onDone }: { house: House; onDone: () => void }) {
  const [file, choose] = useState<File | undefined>(undefined)
  const [preview, show] = useState<RuleFilePreview | undefined>(undefined)
  const [no, setNo] = useState('')
  const { rules: say } = words.office

  const look = async (at: File) => {
    choose(at)
    const heard = await previewOf(at)
    show(heard.said === 'recorded' ? heard.body : undefined)
    setNo(sentenceOf(heard) ?? '')
  }
  const leave = () => {
    show(undefined)
    choose(undefined)
  }
  const propose = async ({ kind, id, name, content }: RuleFilePreview) => {
    const done = await askOffice(house, `${name}: ${say.told.proposed}`, 'adoption-proposals', { kind, id, content })
    if (!done) return
    leave()
    onDone()
  }

  return (
    <div class="stack">
      <FileDrop
        label={say.file.bring}
        hint={say.file.hint}
        endings={['.json']}
        maxBytes={mostBytes}
        chosen={file && { name: file.name, size: file.size }}
        onFile={(at) => void look(at)}
      />
      {no && (
        <p class="office-problem" role="alert">
          {no}
        </p>
      )}
      {preview && (
        <section class="sheet stack" aria-label={say.file.title(preview.name)}>
          <h3>{say.file.title(preview.name)}</h3>
          <p role="status">{say.file.checksums[preview.checksum]}</p>
          <p>
            {preview.against
              ? say.file.against(say.states[preview.against.state], preview.against.edition, preview.edition)
              : say.file.unknown(preview.id)}
          </p>
          {preview.problems.length > 0 && (
            <div class="office-problem" role="alert">
              <p>{say.file.refused}</p>
              <ul class="office-bullets">
                {preview.problems.map(({ line, says }) => (
                  <li key={`${line}${says}`}>{say.file.problem(line, says)}</li>
                ))}
              </ul>
            </div>
          )}
          <Differences of={preview.differs} caption={say.file.differs} />
          <div class="row">
            {preview.problems.length === 0 && preview.differs.length > 0 && (
              <Button kind="primary" onPress={() => void propose(preview)}>
                {say.file.propose}
              </Button>
            )}
            <Button onPress={leave}>{say.file.leave}</Button>
          </div>
        </section>
      )}
    </div>
  )
}

/** What differs, field by field; that nothing does is said as well. */
export function Differences({ of, caption }: { of: readonly Difference[]; caption: string }) {
  const { file: say } = words.office.rules
  if (of.length === 0) return <p>{say.nothing}</p>
  return (
    <DataTable<Difference>
      caption={caption}
      rows={of}
      rowKey={({ path }) => path}
      columns={[
        { key: 'path', head: say.field, names: true, cell: ({ path }) => path },
        { key: 'before', head: say.before, cell: ({ before }) => before ?? say.absent },
        { key: 'after', head: say.after, cell: ({ after }) => after ?? say.absent },
      ]}
    />
  )
}

export const fileAddress = ({ kind, id, proposalId }: Offer): string =>
  `/api/office/rule-files?${new URLSearchParams({ kind, id, ...(proposalId && { proposal: proposalId }) })}`

async function previewOf(file: File): Promise<Outcome<RuleFilePreview>> {
  try {
    const answer = await fetch('/api/office/rule-previews', {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: await file.arrayBuffer(),
      signal: AbortSignal.timeout(30_000),
    })
    return await understand<RuleFilePreview>(answer)
  } catch {
    return { said: 'noContact' }
  }
}
