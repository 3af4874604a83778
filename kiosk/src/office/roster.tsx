import { useState } from 'preact/hooks'
import type { RosterPreview, RosterTaken } from '@musterbook/vocabulary/office'
import { sentenceOf } from '../house/sentence.ts'
import type { House } from '../house/house.ts'
import { understand, type Outcome } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { FileDrop } from '../parts/file-drop/file-drop.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'
import { Classes } from './classes.tsx'
import { mayAsk } from './may.ts'
import { Preview } from './roster-preview.tsx'

const mostBytes = 5_000_000
const orders = ['dmy', 'mdy', 'ymd'] as const
const delimiters = ['found', ',', ';', 'tab', '|'] as const
const encodings = ['found', 'utf-8', 'utf-16le', 'utf-16be', 'windows-1252'] as const

interface Told {
  dateOrder: (typeof orders)[number]
  delimiter: (typeof delimiters)[number]
  encoding: (typeof encodings)[number]
  className: string
}

/** A roster file: looked at row by row, then accepted. Nothing is saved by looking. */
export function Roster({ house }: { house: House }) {
  const [file, choose] = useState<File | undefined>(undefined)
  const [told, tellOf] = useState<Told>({ dateOrder: 'dmy', delimiter: 'found', encoding: 'found', className: '' })
  const [preview, show] = useState<RosterPreview | undefined>(undefined)
  const [no, setNo] = useState('')
  const [reading, setReading] = useState(false)
  const [taken, setTaken] = useState<RosterTaken | undefined>(undefined)
  const { roster } = words.office

  const look = async (at: File | undefined, of: Told) => {
    if (!at) return
    setReading(true)
    setTaken(undefined)
    const heard = await previewOf(at, of)
    setReading(false)
    show(heard.said === 'recorded' ? heard.body : undefined)
    setNo(sentenceOf(heard) ?? '')
  }
  const change = (to: Partial<Told>) => {
    const next = { ...told, ...to }
    tellOf(next)
    void look(file, next)
  }
  const accept = async (choices: Record<string, 'take' | 'leave'>) => {
    if (!preview) return
    const done = await askOffice<RosterTaken>(house, roster.accept, 'rosters', { previewId: preview.previewId, choices })
    if (!done) return
    setTaken(done)
    show(undefined)
    choose(undefined)
  }

  return (
    <div class="stack">
      {mayAsk(house, 'acceptRoster') && (
        <section class="stack">
          <h2>{roster.title}</h2>
          <p>{roster.help}</p>
          <Tabs
            label={roster.dateOrder}
            labelled
            value={told.dateOrder}
            choices={orders.map((value) => ({ value, says: roster.dateOrders[value] }))}
            onChange={(value) => change({ dateOrder: value as Told['dateOrder'] })}
          />
          <div class="office-form">
            <Field
              label={roster.className}
              optional
              value={told.className}
              maxLength={60}
              onInput={(className) => tellOf({ ...told, className })}
              onEnter={() => void look(file, told)}
            />
            <Choice
              label={roster.delimiter}
              value={told.delimiter}
              choices={delimiters.map((value) => ({ value, says: roster.delimiters[value] }))}
              onChange={(value) => change({ delimiter: value as Told['delimiter'] })}
            />
            <Choice
              label={roster.encoding}
              value={told.encoding}
              choices={encodings.map((value) => ({ value, says: roster.encodings[value] }))}
              onChange={(value) => change({ encoding: value as Told['encoding'] })}
            />
          </div>
          <FileDrop
            label={roster.file}
            hint={roster.fileHint}
            endings={['.csv', '.txt', '.tsv']}
            maxBytes={mostBytes}
            chosen={file && { name: file.name, size: file.size }}
            onFile={(at) => {
              choose(at)
              void look(at, told)
            }}
          />
          {reading && <p role="status">{roster.reading}</p>}
          {no && (
            <p class="office-problem" role="alert">
              {no}
            </p>
          )}
          {file && (preview || no) && (
            <div class="row">
              <Button onPress={() => void look(file, told)}>{roster.preview}</Button>
            </div>
          )}
          {taken && (
            <p role="status" class="office-note">
              {roster.accepted(taken.taken.length, taken.left.length)}
              {taken.left.length > 0 && ` ${roster.leftLines(taken.left.map(({ line }) => line).join(', '))}`}
            </p>
          )}
          {preview && (
            <Preview
              key={preview.previewId}
              preview={preview}
              onAccept={(choices) => void accept(choices)}
              onDiscard={() => {
                show(undefined)
                choose(undefined)
              }}
            />
          )}
        </section>
      )}
      {!preview && <Classes key={taken?.taken.length ?? 0} house={house} />}
    </div>
  )
}

async function previewOf(file: File, { dateOrder, delimiter, encoding, className }: Told): Promise<Outcome<RosterPreview>> {
  const query = new URLSearchParams({
    dateOrder,
    ...(delimiter !== 'found' && { delimiter }),
    ...(encoding !== 'found' && { encoding }),
    ...(className.trim() && { className: className.trim() }),
  })
  try {
    const answer = await fetch(`/api/office/roster-previews?${query}`, {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: await file.arrayBuffer(),
      signal: AbortSignal.timeout(30_000),
    })
    return await understand<RosterPreview>(answer)
  } catch {
    return { said: 'noContact' }
  }
}
