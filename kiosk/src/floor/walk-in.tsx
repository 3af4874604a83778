import { useState } from 'preact/hooks'
import { ageOn } from '@musterbook/scoring/age'
import type { FloorView } from '@musterbook/day/views/board'
import type { ClassId, StudentId } from '@musterbook/vocabulary/ids'
import type { Language } from '@musterbook/vocabulary/people'
import { className, type House } from '../house/house.ts'
import { sentenceOf } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'

type Sex = 'M' | 'W'

/** Somebody on no list: the office learns who they are first, then the day expects them. */
export function WalkIn({ house, view, onDone }: { house: House; view: FloorView; onDone: () => void }) {
  const classes = [...new Set(view.students.map(({ classId }) => classId))]
  const [givenName, setGiven] = useState('')
  const [familyName, setFamily] = useState('')
  const [code, setCode] = useState('')
  const [birthDate, setBirth] = useState('')
  const [normSex, setSex] = useState<Sex | ''>('')
  const [classId, setClass] = useState(classes[0] ?? '')
  const [language, setLanguage] = useState<Language>('en')
  const [wrong, setWrong] = useState<string | undefined>(undefined)
  const day = house.day.value!

  const add = async () => {
    if (normSex === '') return setWrong(words.floor.normSexMissing)
    const enrolled = await house.api.post<{ studentId: StudentId }>('/api/office/students', {
      body: { classId, code, familyName, givenName, birthDate, normSex, language },
    })
    if (enrolled.said !== 'recorded') return setWrong(sentenceOf(enrolled) ?? words.floor.codeTaken)
    const said = await tell(house, words.floor.walkInSaid(`${givenName} ${familyName}`), 'walkIn', {
      studentId: enrolled.body.studentId,
      classId: classId as ClassId,
      normGroup: { sex: normSex, ageYears: ageOn(birthDate, day.date, day.leapBirthday) },
      language,
    })
    if (said.said === 'recorded') onDone()
  }

  return (
    <form
      class="sheet stack"
      aria-labelledby="walk-in"
      onSubmit={(event) => {
        event.preventDefault()
        void add()
      }}
    >
      <h2 id="walk-in">{words.floor.walkInTitle}</h2>
      <p>{words.floor.walkInHelp}</p>
      <Field label={words.floor.givenName} value={givenName} onInput={setGiven} autoComplete="off" />
      <Field label={words.floor.familyName} value={familyName} onInput={setFamily} autoComplete="off" />
      <Field label={words.floor.code} value={code} onInput={setCode} autoComplete="off" />
      <Field label={words.floor.birthDate} type="date" value={birthDate} onInput={setBirth} />
      <Tabs
        label={words.floor.normSex}
        labelled
        value={normSex}
        choices={[
          { value: 'M', says: words.floor.men },
          { value: 'W', says: words.floor.women },
        ]}
        onChange={(sex) => setSex(sex as Sex)}
      />
      <p class="quiet">{words.floor.normSexHelp}</p>
      <Choice
        label={words.floor.className}
        value={classId}
        choices={classes.map((one) => ({ value: one, says: className(house, one) }))}
        onChange={setClass}
      />
      <Choice
        label={words.floor.language}
        value={language}
        choices={(['en', 'es', 'ar'] as const).map((one) => ({ value: one, says: words.briefing.languages[one] }))}
        onChange={(said) => setLanguage(said as Language)}
      />
      {wrong && (
        <p role="alert" class="trouble">
          {wrong}
        </p>
      )}
      <div class="row">
        <Button type="submit" kind="primary">
          {words.floor.walkInAdd}
        </Button>
        <Button onPress={onDone}>{words.common.cancel}</Button>
      </div>
    </form>
  )
}
