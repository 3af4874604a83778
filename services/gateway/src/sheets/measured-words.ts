import type { AttemptView } from '@musterbook/day/views/parts'
import { sayValue, type ReadingUnit } from '@musterbook/stations/units'
import type { Measured } from '@musterbook/vocabulary/measured'
import { studentWords, valueIn, type StudentWords } from './student-words.ts'

/** As a person would read it aloud, with how it was had. */
export const sayMeasured = ({ amount, unit, method }: Measured, say: StudentWords = studentWords.en): string =>
  `${sayAmount(amount, unit, say)} (${methodWords(method, say)})`

export const sayAmount = (amount: number, unit: string, say: StudentWords = studentWords.en): string =>
  valueIn(say, sayValue(amount, unit as ReadingUnit))

function methodWords(method: string, say: StudentWords): string {
  const footLine = /^footLine(\d+)mm$/.exec(method)
  return footLine ? say.footLine(Number(footLine[1]) / 10) : (say.methods[method] ?? method)
}

/** 'noLockOut' is 'no lock out': a protocol's own short names, in words. */
export const plain = (name: string): string => name.replaceAll(/([a-z])([A-Z])/g, '$1 $2').toLowerCase()

/** One try, everything seen of it, and what became of it. */
export function tryInWords(attempt: AttemptView, time: (at: number) => string, say: StudentWords = studentWords.en): string {
  const kind = attempt.official ? `${say.officialTry(attempt.number)}${attempt.extra ? `, ${say.extra}` : ''}` : say.practice
  const seen = attempt.observations.map(({ outcome, value, fault, folds, percentFatHundredths }) =>
    [
      say.outcomes[outcome],
      value && sayMeasured(value, say),
      fault && plain(fault) !== say.outcomes[outcome] && `(${plain(fault)})`,
      folds.length > 0 &&
        `${say.folds} ${folds.map((fold) => valueIn(say, `${plain(fold.site)} ${(fold.halfMillimetres / 2).toFixed(1)}`)).join(', ')} mm`,
      percentFatHundredths !== null && `${valueIn(say, (percentFatHundredths / 100).toFixed(2))} % ${say.fat}`,
    ]
      .filter(Boolean)
      .join(' '),
  )
  const load =
    attempt.load && attempt.observations.every((one) => one.value === null) ? `${say.load} ${sayMeasured(attempt.load, say)}` : null
  const finish = attempt.finish && say.finishAfter(sayAmount(attempt.finish.elapsedMs, 'milliseconds', say), attempt.finish.laps)
  return [
    kind,
    attempt.startedAt !== null && time(attempt.startedAt),
    load,
    ...seen,
    finish,
    attempt.interruptedBy && say.interrupted[attempt.interruptedBy],
    ...attempt.corrections.map((one) => say.corrections[one.kind] ?? plain(one.kind)),
    ...attempt.openReviews.map((because) => `${say.underReview}: ${plain(because)}`),
  ]
    .filter(Boolean)
    .join('; ')
}
