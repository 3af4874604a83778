import { useState } from 'preact/hooks'
import type { RosterFate, RosterPreview, RosterRow } from '@musterbook/vocabulary/office'
import { Button } from '../parts/button/button.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { Tick } from '../parts/field/field.tsx'
import { Mark, type State } from '../parts/mark/mark.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { words } from '../words/words.ts'

type Choices = Record<string, 'take' | 'leave'>
const fates: readonly RosterFate[] = ['asks', 'unusable', 'new', 'changed', 'unchanged']
const marks: Record<RosterFate, State> = { new: 'met', changed: 'limited', unchanged: 'done', asks: 'review', unusable: 'notMet' }

interface Props {
  preview: RosterPreview
  onAccept: (choices: Choices) => void
  onDiscard: () => void
}

/** Every row's fate before anything is saved, and what to do where the file alone does not say. */
export function Preview({ preview, onAccept, onDiscard }: Props) {
  const [choices, choose] = useState<Choices>({})
  const [only, setOnly] = useState<RosterFate | 'all'>('all')
  const { roster } = words.office
  const taken = (row: RosterRow) =>
    choices[row.line] === 'take' || (choices[row.line] === undefined && (row.fate === 'new' || row.fate === 'changed'))
  const rows = preview.rows.filter(({ fate }) => only === 'all' || fate === only)
  const name = ({ values }: RosterRow) => [values.givenName, values.familyName].filter(Boolean).join(' ')

  return (
    <section class="stack">
      <h2>{roster.previewTitle}</h2>
      <p>
        {roster.read(preview.encoding, preview.delimiter === '\t' ? roster.delimiters.tab : preview.delimiter)}{' '}
        {preview.ignoredColumns.length > 0 && roster.ignored(preview.ignoredColumns.join(', '))}
      </p>
      {preview.exported && (
        <p role="status">{roster.exported[preview.exported.checksum](preview.exported.class, preview.exported.version)}</p>
      )}
      {preview.counts.unchanged === preview.rows.length && <p role="status">{roster.nothingDiffers}</p>}
      {preview.hint && <p class="office-note">{preview.hint}</p>}
      <Tabs
        label={roster.show}
        value={only}
        choices={[
          { value: 'all', says: roster.all, detail: String(preview.rows.length) },
          ...fates
            .filter((fate) => preview.counts[fate] > 0)
            .map((fate) => ({ value: fate, says: roster.fates[fate], detail: String(preview.counts[fate]) })),
        ]}
        onChange={(value) => setOnly(value as RosterFate | 'all')}
      />
      <DataTable<RosterRow>
        caption={roster.previewTitle}
        captionSpoken
        rows={rows}
        rowKey={(row) => String(row.line)}
        columns={[
          { key: 'line', head: roster.line, cell: (row) => row.line, figures: true },
          { key: 'name', head: roster.name, names: true, cell: (row) => <bdi>{name(row)}</bdi> },
          { key: 'code', head: roster.code, cell: (row) => row.values.code ?? '' },
          { key: 'born', head: roster.born, cell: (row) => row.values.birthDate ?? '' },
          { key: 'norm', head: roster.norm, cell: (row) => row.values.normSex ?? '' },
          { key: 'class', head: roster.class, cell: (row) => row.values.class ?? '' },
          { key: 'fate', head: roster.fate, cell: (row) => <Mark state={marks[row.fate]} says={roster.fates[row.fate]} /> },
          {
            key: 'says',
            head: roster.says,
            cell: (row) => (
              <span class="office-says">
                {row.says.map((one) => (
                  <span key={one}>{one}</span>
                ))}
                {row.lookAlikes.length > 0 && <strong>{roster.looksLike(row.lookAlikes.join(', '))}</strong>}
              </span>
            ),
          },
          {
            key: 'choice',
            head: roster.choice,
            cell: (row) =>
              row.fate === 'unusable' || row.fate === 'unchanged' ? (
                roster.leave
              ) : (
                <Tick
                  says={
                    <>
                      {roster.take}
                      <span class="spoken">: {roster.takeNamed(row.line, name(row))}</span>
                    </>
                  }
                  checked={taken(row)}
                  onChange={(checked) => choose({ ...choices, [row.line]: checked ? 'take' : 'leave' })}
                />
              ),
          },
        ]}
      />
      <div class="row">
        <Button kind="primary" size="key" detail={roster.takes(preview.rows.filter(taken).length)} onPress={() => onAccept(choices)}>
          {roster.accept}
        </Button>
        <Button onPress={onDiscard}>{roster.discard}</Button>
      </div>
    </section>
  )
}
