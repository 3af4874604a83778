import { Language } from '@musterbook/vocabulary/people'
import type { HealthQuestion, HealthQuestions } from '@musterbook/vocabulary/office'
import { z } from 'zod'

const Said = z.record(Language, z.string().min(1).max(1000))

/** A set of health questions as a site adopts it: the wording is a local clinician's, named and dated, and shown as it is. */
export const HealthQuestionSet: z.ZodType<HealthQuestions> = z.strictObject({
  id: z.string().min(1).max(60),
  edition: z.string().min(1),
  wordingBy: z.string().min(1),
  wordingOn: z.iso.date(),
  invented: z.boolean(),
  intro: Said,
  questions: z
    .array(
      z.strictObject({
        questionId: z.string().min(1).max(40),
        kind: z.enum(['choice', 'words']),
        asks: Said,
        choices: z.array(z.strictObject({ choiceId: z.string().min(1).max(40), says: Said })),
      }),
    )
    .min(1)
    .max(30),
})

/** Why these answers do not fit these questions; undefined when they do. Every choice must be made, words may stay empty. */
export function answersFault(set: HealthQuestions, answers: Readonly<Record<string, string>>): string | undefined {
  const unknown = Object.keys(answers).find((id) => !set.questions.some(({ questionId }) => questionId === id))
  if (unknown !== undefined) return `there is no question ${unknown}`
  const open = set.questions.find(({ questionId, kind, choices }) => {
    const answer = answers[questionId]
    return kind === 'choice' && !choices.some(({ choiceId }) => choiceId === answer)
  })
  return open && `question ${open.questionId} has no answer that it offers`
}

const yesNo: HealthQuestion['choices'] = [
  { choiceId: 'no', says: { en: 'No', es: 'No', ar: 'لا' } },
  { choiceId: 'yes', says: { en: 'Yes', es: 'Sí', ar: 'نعم' } },
]
const choice = (questionId: string, en: string, es: string, ar: string): HealthQuestion => ({
  questionId,
  kind: 'choice',
  asks: { en, es, ar },
  choices: yesNo,
})

/** The demonstration's own general words, no questionnaire of anybody's. A real site adopts its clinician's wording in their place. */
export const demoHealthQuestions: HealthQuestions = {
  id: 'HQ-1',
  edition: 'invented, 1',
  wordingBy: 'Petra Holm, invented clinician of the demonstration',
  wordingOn: '2027-04-20',
  invented: true,
  intro: {
    en: 'Only the medical screener reads your answers. If you are not sure, answer yes and talk to the screener.',
    es: 'Solo el personal sanitario lee sus respuestas. Si no está seguro, responda que sí y hable con el personal sanitario.',
    ar: 'لا يقرأ إجاباتك إلا الفاحص الطبي. إن لم تكن متأكدًا فأجب بنعم وتحدث مع الفاحص.',
  },
  questions: [
    choice(
      'chest',
      'Have you had chest pain or pressure lately?',
      '¿Ha tenido últimamente dolor o presión en el pecho?',
      'هل شعرت مؤخرًا بألم أو ضغط في الصدر؟',
    ),
    choice(
      'faint',
      'Have you fainted or felt faint during effort?',
      '¿Se ha desmayado o mareado al hacer esfuerzo?',
      'هل أُغمي عليك أو شعرت بدوار أثناء الجهد؟',
    ),
    choice(
      'breath',
      'Have you been unusually short of breath?',
      '¿Le ha faltado el aire de forma poco habitual?',
      'هل عانيت من ضيق تنفس غير معتاد؟',
    ),
    choice(
      'ill',
      'Have you been ill or had a fever in the last two weeks?',
      '¿Ha estado enfermo o con fiebre en las últimas dos semanas?',
      'هل كنت مريضًا أو مصابًا بحمى خلال الأسبوعين الماضيين؟',
    ),
    choice('heat', 'Have you ever been ill from heat?', '¿Alguna vez ha enfermado por el calor?', 'هل سبق أن مرضت بسبب الحر؟'),
    choice(
      'injury',
      'Does any injury or pain limit you today?',
      '¿Alguna lesión o dolor lo limita hoy?',
      'هل تحد إصابة أو ألم من حركتك اليوم؟',
    ),
    choice(
      'medicine',
      'Have you taken any medicine this week?',
      '¿Ha tomado algún medicamento esta semana?',
      'هل تناولت أي دواء هذا الأسبوع؟',
    ),
    choice(
      'other',
      'Is there anything else that the screener should know?',
      '¿Hay algo más que el personal sanitario deba saber?',
      'هل هناك أي شيء آخر ينبغي أن يعرفه الفاحص؟',
    ),
    {
      questionId: 'words',
      kind: 'words',
      asks: {
        en: 'You may write it here, or say it at the desk.',
        es: 'Puede escribirlo aquí o decirlo en el mostrador.',
        ar: 'يمكنك كتابته هنا أو قوله عند المكتب.',
      },
      choices: [],
    },
  ],
}
