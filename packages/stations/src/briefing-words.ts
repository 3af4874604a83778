import type { Language } from '@musterbook/vocabulary/people'

interface BriefingWords {
  steps: string
  voids: string
  tries: string
  triesAre: (tries: number, counts: string) => string
  counts: Record<'best' | 'last' | 'mean', string>
  rest: (minutes: number) => string
  stopWhen: string
  tell: string
  cautions: string
  atAnyTime: string
  invented: string
}

/** The headings of a briefing, made from a protocol: the same on the big screen and on paper. */
export const briefingWords = {
  en: {
    steps: 'What you do',
    voids: 'What voids a try',
    tries: 'Tries',
    triesAre: (tries, counts) => `${tries} official ${tries === 1 ? 'try' : 'tries'}. ${counts}`,
    counts: { best: 'The best one counts.', last: 'The last one counts.', mean: 'Their mean counts.' },
    rest: (minutes) => `At least ${minutes} min of rest between tries.`,
    stopWhen: 'Stop at once when',
    tell: 'Whom to tell:',
    cautions: 'Cautions',
    atAnyTime: 'You may stop at any time, without giving a reason.',
    invented: 'protocol invented for this site',
  },
  es: {
    steps: 'Qué hay que hacer',
    voids: 'Qué anula un intento',
    tries: 'Intentos',
    triesAre: (tries, counts) => `${tries} ${tries === 1 ? 'intento oficial' : 'intentos oficiales'}. ${counts}`,
    counts: { best: 'Cuenta el mejor.', last: 'Cuenta el último.', mean: 'Cuenta su media.' },
    rest: (minutes) => `Al menos ${minutes} min de descanso entre intentos.`,
    stopWhen: 'Pare de inmediato si',
    tell: 'A quién avisar:',
    cautions: 'Precauciones',
    atAnyTime: 'Puede parar en cualquier momento, sin dar motivo.',
    invented: 'protocolo inventado para este lugar',
  },
  ar: {
    steps: 'ما الذي تفعله',
    voids: 'ما الذي يلغي المحاولة',
    tries: 'المحاولات',
    triesAre: (tries, counts) => `عدد المحاولات الرسمية: ${tries}. ${counts}`,
    counts: { best: 'تُحتسب أفضلها.', last: 'تُحتسب آخرها.', mean: 'يُحتسب متوسطها.' },
    rest: (minutes) => `راحة لا تقل عن ${minutes} دقيقة بين المحاولات.`,
    stopWhen: 'توقف فورًا إذا',
    tell: 'من يجب إخباره:',
    cautions: 'تنبيهات',
    atAnyTime: 'يمكنك التوقف في أي وقت دون ذكر السبب.',
    invented: 'بروتوكول مُختلَق لهذا الموقع',
  },
} satisfies Record<Language, BriefingWords> as Record<Language, BriefingWords>
