import { useState } from 'preact/hooks'
import type { StationStudent } from '@musterbook/day/views/station'
import type { Protocol } from '@musterbook/stations/protocol'
import { foldColumns } from '@musterbook/stations/written-codes'
import type { FoldReading } from '@musterbook/vocabulary/attempt'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { newId, showWhat } from '../shell/shell.tsx'
import { stationActs } from '../station/acts.ts'
import { askAbout, historyOf } from '../station/asks.ts'
import { useDraft } from '../station/draft.ts'
import { foldForm, type StationForm } from '../station/form.ts'
import { formOfProtocol, measured } from '../station/value-entry.tsx'
import { words } from '../words/words.ts'
import type { WrittenTry } from './acts.ts'
import { askAboutFolds, askAboutTime } from './asks.ts'
import { Asked } from './asked.tsx'
import { CodeChoice, codeOf } from './codes.tsx'
import { blankRow, type RowDraft } from './draft.ts'
import { Official, people, type RowsProps } from './rows.tsx'
import { amountIn, writtenAt, type Written } from './written.ts'

/** One line of a sheet: who, when as it is written, and the value or the code that stands there. */
export function Tries(props: RowsProps) {
  const { house, view, acts, sheet } = props
  const [draft, write] = useDraft<RowDraft>(`musterbook.paper.${view.dayId}.${view.stationId}`, blankRow)
  const [tried, tryTo] = useState(false)
  const [question, ask] = useState<string | null>(null)
  const { protocol } = view
  const day = house.day.value!
  const form = formOfProtocol(protocol)
  const code = codeOf(protocol, draft.code)
  const student = view.students.find((one) => one.studentId === draft.studentId)
  const written = writtenAt(draft.clock, day.date, day.utcOffsetMinutes)
  const read = readAs(draft, protocol, student, form)
  const change = (changed: Partial<RowDraft>) => {
    ask(null)
    write({ ...draft, ...changed })
  }
  const questions = (at: Written, what: WrittenTry, of: StationStudent) => [
    ...askAboutTime(at.at, at.bandMs, house.clock.siteNow(), draft.clock),
    ...(what.value ? [askAbout(what.value.amount, protocol, historyOf(of, protocol.unit)) ?? []].flat() : []),
    ...(protocol.kind === 'skinfold' && !code ? askAboutFolds(protocol, of.sites ?? [], what.folds) : []),
  ]

  const save = async (kept: boolean) => {
    tryTo(true)
    if (!student || !written || !read) return
    const doubt = questions(written, read, student).join(' ')
    if (doubt && !kept) return ask(doubt)
    const attemptId = newId('paper')
    const told = acts.result(attemptId, { ...read, keptUnusual: doubt !== '' }, written)
    const outcome = await showWhat(house, words.paper.told(sheet), told)
    if (!stands(outcome)) return
    if (doubt) stationActs(house, view).answer('unusualValue', student.studentId, attemptId, doubt, 'keep')
    ask(null)
    tryTo(false)
    write(blankRow)
  }

  return (
    <form
      class="stack narrow"
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        void save(false)
      }}
    >
      <Choice
        label={words.paper.who}
        value={draft.studentId}
        blank={words.paper.whoBlank}
        choices={people(props)}
        onChange={(studentId) => change({ studentId, folds: {} })}
        error={tried && !student ? words.paper.needed : undefined}
      />
      <Field
        label={words.paper.when}
        hint={words.paper.whenHint}
        value={draft.clock}
        onInput={(clock) => change({ clock })}
        error={tried && !written ? words.paper.whenWrong : undefined}
      />
      <CodeChoice
        protocol={protocol}
        code={draft.code}
        good={protocol.kind === 'loaded' ? words.paper.goodLift : words.paper.valueStands}
        onChange={(chosen) => change({ code: chosen })}
      />
      {protocol.kind === 'skinfold' ? (
        student && !code && <Folds student={student} draft={draft} onChange={change} wrong={tried && !read} />
      ) : !code || protocol.kind === 'loaded' ? (
        <Field
          label={protocol.kind === 'loaded' ? words.paper.load : words.paper.value(protocol.name)}
          hint={form.shape === 'time' ? words.paper.timeHint : words.paper.valueHint(form.sign)}
          inputMode="decimal"
          value={draft.typed}
          onInput={(typed) => change({ typed })}
          error={tried && !read ? words.paper.valueWrong : undefined}
        />
      ) : null}
      <Official official={draft.official} onChange={(official) => change({ official })} />
      {question ? (
        <Asked
          question={question}
          onKeep={() => void save(true)}
          onRetype={() => {
            stationActs(house, view).answer('unusualValue', draft.studentId, null, question, 'retype')
            change(protocol.kind === 'skinfold' ? {} : { typed: '' })
          }}
        />
      ) : (
        <Button type="submit" kind="primary">
          {words.paper.save}
        </Button>
      )}
    </form>
  )
}

/** As many fields a site as the sheet has, in the order of the protocol. */
function Folds(props: { student: StationStudent; draft: RowDraft; onChange: (changed: Partial<RowDraft>) => void; wrong: boolean }) {
  const { student, draft, onChange, wrong } = props
  const set = (site: string, index: number, typed: string) => {
    const row = Array.from({ length: foldColumns }, (_, at) => (at === index ? typed : (draft.folds[site]?.[at] ?? '')))
    onChange({ folds: { ...draft.folds, [site]: row } })
  }
  return (
    <>
      {(student.sites ?? []).map((site) => (
        <fieldset class="paper-site" key={site}>
          <legend>{words.station.sites[site] ?? site}</legend>
          {Array.from({ length: foldColumns }, (_, index) => {
            const typed = draft.folds[site]?.[index] ?? ''
            return (
              <Field
                key={index}
                label={words.paper.reading(index + 1)}
                unit={foldForm.sign}
                inputMode="decimal"
                optional={index > 1}
                value={typed}
                onInput={(text) => set(site, index, text)}
                error={wrong && typed.trim() !== '' && amountIn(typed, foldForm) === null ? words.paper.valueWrong : undefined}
              />
            )
          })}
        </fieldset>
      ))}
      {wrong && (
        <p class="field-error" role="alert">
          {words.paper.foldsWrong}
        </p>
      )}
    </>
  )
}

/** What the row says, in the act's own words; null while it says nothing that can be read. */
function readAs(draft: RowDraft, protocol: Protocol, student: StationStudent | undefined, form: StationForm): WrittenTry | null {
  const code = codeOf(protocol, draft.code)
  const amount = amountIn(draft.typed, form)
  const value = amount === null ? null : measured(protocol, amount)
  const about = { studentId: draft.studentId, official: draft.official, keptUnusual: false }
  const nothing = { value: null, load: null, folds: [], fault: null }
  if (protocol.kind === 'loaded' && !value) return null
  const load = protocol.kind === 'loaded' ? value : null
  if (code) return { ...about, ...nothing, load, outcome: code.outcome, fault: code.fault }
  if (protocol.kind !== 'skinfold') return value && { ...about, ...nothing, load, outcome: 'good', value }
  const folds = foldsIn(draft, student?.sites ?? [])
  return folds && { ...about, ...nothing, outcome: 'good', folds }
}

/** In the order in which a circuit reads them: every site once, then again. */
function foldsIn({ folds }: RowDraft, sites: readonly string[]): FoldReading[] | null {
  const read = Array.from({ length: foldColumns }, (_, index) =>
    sites.flatMap((site) => {
      const typed = folds[site]?.[index]?.trim()
      return typed ? [{ site, halfMillimetres: amountIn(typed, foldForm) }] : []
    }),
  ).flat()
  const isRead = (fold: (typeof read)[number]): fold is FoldReading => fold.halfMillimetres !== null
  return read.length > 0 && read.every(isRead) ? read : null
}
