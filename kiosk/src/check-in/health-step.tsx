import { useState } from 'preact/hooks'
import type { HealthQuestion, HealthQuestions } from '@musterbook/vocabulary/office'
import type { Language } from '@musterbook/vocabulary/people'
import { Button } from '../parts/button/button.tsx'
import { Field } from '../parts/field/field.tsx'
import { Shape } from '../parts/mark/mark.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { words } from '../words/words.ts'

interface Props {
  set: HealthQuestions
  language: Language
  wrong: string | undefined
  busy: boolean
  onAnswers: (answers: Record<string, string>) => void
  onSkip: () => void
}

/** The adopted questions as they stand, in the student's language. They go to the screener and are not read back. */
export function HealthStep({ set, language, wrong, busy, onAnswers, onSkip }: Props) {
  const [answers, answer] = useState<Record<string, string>>({})
  const choices = set.questions.filter(({ kind }) => kind === 'choice')
  const touched = choices.filter(isYesOrNo).filter(({ questionId }) => answers[questionId] === 'yes').length
  const say = (questionId: string, said: string) => answer({ ...answers, [questionId]: said })
  const send = () => {
    // What was not touched does not apply: the key says so before it is pressed.
    const rest = choices.filter(isYesOrNo).map(({ questionId }) => [questionId, answers[questionId] ?? 'no'] as const)
    onAnswers({ ...answers, ...Object.fromEntries(rest) })
  }

  return (
    <>
      <p lang={language} dir="auto">
        {set.intro[language]}
      </p>
      <p>{words.checkIn.healthHelp}</p>
      <ul class="health-questions" lang={language} dir={language === 'ar' ? 'rtl' : 'ltr'}>
        {set.questions.map((question) => (
          <li key={question.questionId} class={isYesOrNo(question) ? undefined : 'health-wide'}>
            {isYesOrNo(question) ? (
              <button
                type="button"
                class="button health-question"
                aria-pressed={answers[question.questionId] === 'yes'}
                onClick={() => say(question.questionId, answers[question.questionId] === 'yes' ? 'no' : 'yes')}
              >
                <Shape state={answers[question.questionId] === 'yes' ? 'limited' : 'pending'} />
                <span class="button-words">
                  <span>{question.asks[language]}</span>
                  {answers[question.questionId] === 'yes' && (
                    <span class="button-detail">{question.choices.find(({ choiceId }) => choiceId === 'yes')?.says[language]}</span>
                  )}
                </span>
              </button>
            ) : question.kind === 'choice' ? (
              <Tabs
                label={question.asks[language]}
                labelled
                value={answers[question.questionId] ?? ''}
                choices={question.choices.map(({ choiceId, says }) => ({ value: choiceId, says: says[language] }))}
                onChange={(said) => say(question.questionId, said)}
              />
            ) : (
              <Field
                label={question.asks[language]}
                value={answers[question.questionId] ?? ''}
                onInput={(said) => say(question.questionId, said)}
                maxLength={2000}
                long
                optional
              />
            )}
          </li>
        ))}
      </ul>
      {wrong && (
        <p role="alert" class="trouble">
          {wrong}
        </p>
      )}
      <div class="row check-in-keys">
        <Button kind="primary" size="key" busy={busy} onPress={send}>
          {choices.every(isYesOrNo) ? (touched === 0 ? words.checkIn.noneApplies : words.checkIn.noneElse(touched)) : words.checkIn.send}
        </Button>
        <Button size="key" onPress={onSkip}>
          {words.checkIn.skip}
        </Button>
      </div>
      <p class="quiet">
        <small>{words.checkIn.wording(set.wordingBy, set.wordingOn)}</small>
      </p>
    </>
  )
}

/** Such a question is a statement to be touched. Whatever a site adopts beyond that is a choice to be made. */
const isYesOrNo = ({ kind, choices }: HealthQuestion): boolean =>
  kind === 'choice' &&
  choices.length === 2 &&
  choices.some(({ choiceId }) => choiceId === 'yes') &&
  choices.some(({ choiceId }) => choiceId === 'no')
