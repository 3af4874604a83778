import { useEffect, useState } from 'preact/hooks'
import type { HealthQuestions, HealthRecord } from '@musterbook/vocabulary/office'
import type { House } from '../house/house.ts'
import { sentenceOf } from '../house/sentence.ts'
import { Button } from '../parts/button/button.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'

/** What is sealed: it is opened by a touch, and the opening stands in the record before anything is shown. `kept`: how many notes were added here since. */
export function Answers({ house, studentId, kept }: { house: House; studentId: string; kept: number }) {
  const [record, show] = useState<HealthRecord | undefined>(undefined)
  const [set, setSet] = useState<HealthQuestions | null>(null)
  const [wrong, setWrong] = useState<string | undefined>(undefined)
  const day = house.day.value!
  const open = async () => {
    const questions = await house.api.get<HealthQuestions | null>('/api/medical/questions')
    const said = await house.api.post<HealthRecord>('/api/medical/openings', { studentId, dayId: day.dayId })
    if (questions.said === 'recorded') setSet(questions.body)
    if (said.said === 'recorded') show(said.body)
    setWrong(sentenceOf(said))
  }
  useEffect(() => {
    if (record) void open()
  }, [kept])

  return (
    <section class="stack" aria-labelledby="answers">
      <h3 id="answers">{words.medical.answersTitle}</h3>
      {record ? (
        <>
          {record.answers.length === 0 && <p>{words.medical.noAnswers}</p>}
          {record.answers.map((given) => (
            <div key={given.givenAt} class="stack">
              <p class="figures quiet">{words.medical.answeredAt(wallClock(given.givenAt, day.timeZone))}</p>
              <Given set={set} answers={given.answers} />
            </div>
          ))}
          <h4>{words.medical.notes}</h4>
          {record.notes.length === 0 && <p>{words.medical.noNotes}</p>}
          <ul class="medical-notes">
            {record.notes.map(({ text, writtenBy, writtenAt }) => (
              <li key={`${writtenAt} ${text}`}>
                <p dir="auto">{text}</p>
                <p class="quiet figures">
                  {words.medical.noteBy(house.staff.value.get(writtenBy) ?? writtenBy, wallClock(writtenAt, day.timeZone))}
                </p>
              </li>
            ))}
          </ul>
        </>
      ) : (
        <>
          <p>{words.medical.openedHelp}</p>
          <div class="row">
            <Button onPress={() => void open()}>{words.medical.openAnswers}</Button>
          </div>
        </>
      )}
      {wrong && (
        <p role="alert" class="trouble">
          {wrong}
        </p>
      )}
    </section>
  )
}

/** What applies first, and large; the rest in one line, so that nothing that was asked is hidden. */
function Given({ set, answers }: { set: HealthQuestions | null; answers: HealthRecord['answers'][number]['answers'] }) {
  const asked =
    set?.questions ??
    Object.keys(answers).map((questionId) => ({ questionId, kind: 'words' as const, asks: { en: questionId }, choices: [] }))
  const said = asked.flatMap(({ questionId, asks, choices }) => {
    const answer = answers[questionId]
    if (answer === undefined || answer === '') return []
    const choice = choices.find(({ choiceId }) => choiceId === answer)
    return [{ questionId, asks: asks.en, says: choice?.says.en ?? answer, isNo: answer === 'no' }]
  })
  const first = said.filter(({ isNo }) => !isNo)
  const rest = said.filter(({ isNo }) => isNo)
  return (
    <>
      {first.length === 0 && <p>{words.medical.noneApplies}</p>}
      <dl class="medical-answers">
        {[...first, ...rest].map(({ questionId, asks, says, isNo }) => (
          <div key={questionId} data-no={isNo || undefined}>
            <dt>{asks}</dt>
            <dd dir="auto">{says}</dd>
          </div>
        ))}
      </dl>
    </>
  )
}
