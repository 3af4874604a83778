import { useState } from 'preact/hooks'
import type { Class, Student } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'
import { useFetched } from './fetched.ts'
import { mayAsk } from './may.ts'
import { Waits } from './waits.tsx'

/** Classes and who is in them, as the office registers them. */
export function Classes({ house }: { house: House }) {
  const classes = useFetched<Class[]>(house, '/api/office/classes')
  const [shown, show] = useState<string | undefined>(undefined)
  const { roster } = words.office
  if (!classes.value) return <Waits on={classes} />
  const open = shown ?? classes.value[0]?.classId
  const chosen = classes.value.find(({ classId }) => classId === open)

  return (
    <section class="stack">
      <h2>{roster.classes}</h2>
      {classes.value.length > 0 && (
        <Choice
          label={roster.classNamed}
          value={open ?? ''}
          choices={classes.value.map(({ classId, name, students }) => ({ value: classId, says: `${name} (${students})` }))}
          onChange={show}
        />
      )}
      {chosen ? <Students key={chosen.classId} house={house} of={chosen} onChanged={() => void classes.refresh()} /> : null}
      {mayAsk(house, 'nameClass') && <AddClass house={house} onDone={() => void classes.refresh()} />}
    </section>
  )
}

function AddClass({ house, onDone }: { house: House; onDone: () => void }) {
  const [name, type] = useState('')
  const { roster, saved } = words.office
  const add = async () => {
    if (name.trim() && (await askOffice(house, saved(name), 'classes', { name }))) {
      type('')
      onDone()
    }
  }
  return (
    <form
      class="row office-foot"
      onSubmit={(event) => {
        event.preventDefault()
        void add()
      }}
    >
      <Field label={roster.className1} value={name} onInput={type} maxLength={60} />
      <Button type="submit">{roster.addClass}</Button>
    </form>
  )
}

function Students({ house, of, onChanged }: { house: House; of: Class; onChanged: () => void }) {
  const students = useFetched<Student[]>(house, `/api/office/classes/${of.classId}/students`)
  const [adding, add] = useState(false)
  const { roster } = words.office
  const day = house.day.value
  if (!students.value) return <Waits on={students} />
  return (
    <>
      <div class="row">
        <Button onPress={() => add(true)}>{roster.addStudent}</Button>
        {mayAsk(house, 'acceptRoster') && (
          <a href={`/api/office/classes/${of.classId}/roster.csv`} download>
            {roster.save}
          </a>
        )}
        {day && <a href={`/sheets/days/${day.dayId}/codes`}>{roster.codes}</a>}
        {day && <a href={`/sheets/days/${day.dayId}/bibs?from=101&to=140`}>{roster.bibs(101, 140)}</a>}
        {day && <a href={`/sheets/days/${day.dayId}/bibs`}>{roster.bibsWorn}</a>}
      </div>
      {students.value.length === 0 ? (
        <EmptyState says={roster.noStudents} />
      ) : (
        <DataTable<Student>
          caption={of.name}
          rows={students.value}
          rowKey={(student) => student.studentId}
          columns={[
            {
              key: 'name',
              head: roster.name,
              names: true,
              cell: (student) => <bdi>{student.name}</bdi>,
              sortBy: (student) => `${student.familyName} ${student.givenName}`,
            },
            { key: 'code', head: roster.code, cell: (student) => student.code, sortBy: (student) => student.code },
            { key: 'born', head: roster.born, cell: (student) => student.birthDate, sortBy: (student) => student.birthDate },
            { key: 'norm', head: roster.norm, cell: (student) => student.normSex },
            { key: 'language', head: roster.language, cell: (student) => roster.languages[student.language] },
            {
              key: 'says',
              head: roster.says,
              cell: (student) => [student.lookAlike.length > 0 && roster.similar, student.left && roster.left].filter(Boolean).join(', '),
            },
          ]}
        />
      )}
      <AddStudent
        house={house}
        classId={of.classId}
        open={adding}
        onClose={() => add(false)}
        onDone={() => {
          add(false)
          void students.refresh()
          onChanged()
        }}
      />
    </>
  )
}

const blank = { code: '', familyName: '', givenName: '', birthDate: '', normSex: 'M', language: 'en' }

function AddStudent(props: { house: House; classId: string; open: boolean; onClose: () => void; onDone: () => void }) {
  const [typed, type] = useState(blank)
  const { roster, saved, add } = words.office
  const set = (field: keyof typeof blank) => (value: string) => type({ ...typed, [field]: value })
  const save = async () => {
    const done = await askOffice(props.house, saved(`${typed.givenName} ${typed.familyName}`), 'students', {
      classId: props.classId,
      ...typed,
    })
    if (!done) return props.onClose()
    type(blank)
    props.onDone()
  }
  return (
    <Dialog
      title={roster.addStudent}
      open={props.open}
      onClose={props.onClose}
      foot={
        <Button kind="primary" onPress={() => void save()}>
          {add}
        </Button>
      }
    >
      <div class="office-form">
        <Field label={roster.given} value={typed.givenName} onInput={set('givenName')} />
        <Field label={roster.family} value={typed.familyName} onInput={set('familyName')} />
        <Field label={roster.code} value={typed.code} onInput={set('code')} />
        <Field label={roster.birthDate} type="date" value={typed.birthDate} onInput={set('birthDate')} />
        <Choice
          label={roster.normSex}
          hint={roster.normHint}
          value={typed.normSex}
          choices={['M', 'W'].map((value) => ({ value, says: value }))}
          onChange={set('normSex')}
        />
        <Choice
          label={roster.language}
          value={typed.language}
          choices={(['en', 'es', 'ar'] as const).map((value) => ({ value, says: roster.languages[value] }))}
          onChange={set('language')}
        />
      </div>
    </Dialog>
  )
}
