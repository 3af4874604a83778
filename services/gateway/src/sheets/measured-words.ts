import type { AttemptView } from '@musterbook/day/views/parts'
import { sayValue, type ReadingUnit } from '@musterbook/stations/units'
import type { Measured } from '@musterbook/vocabulary/measured'

/** As a person would read it aloud, with how it was had. */
export const sayMeasured = ({ amount, unit, method }: Measured): string =>
  `${sayValue(amount, unit as ReadingUnit)} (${methodWords(method)})`

export const sayAmount = (amount: number, unit: string): string => sayValue(amount, unit as ReadingUnit)

const methods: Record<string, string> = {
  hand: 'hand timed',
  electronic: 'electronically timed',
  scale: 'scale',
  barAndPlates: 'bar and plates',
  instrument: 'instrument',
}

function methodWords(method: string): string {
  const footLine = /^footLine(\d+)mm$/.exec(method)
  return footLine ? `foot-line at ${Number(footLine[1]) / 10} cm` : (methods[method] ?? method)
}

export const noteWords: Record<string, string> = {
  oneLapInferred: 'one lap inferred',
  lapsInferred: 'laps inferred',
  twoReadings: 'two readings of one try',
  unusualKept: 'unusual value, asked and kept',
  fromPaper: 'transcribed from paper',
  corrected: 'corrected',
  countsByRuling: 'counts by a ruling',
}

const outcomes: Record<AttemptView['observations'][number]['outcome'], string> = {
  good: 'good',
  foul: 'foul',
  noLift: 'no lift',
  noFaultRerun: 'run again, nobody’s fault',
  didNotFinish: 'did not finish',
}

/** 'noLockOut' is 'no lock out': a protocol's own short names, in words. */
export const plain = (name: string): string => name.replaceAll(/([a-z])([A-Z])/g, '$1 $2').toLowerCase()

const corrections: Record<string, string> = {
  value: 'value corrected',
  void: 'made void',
  official: 'kind of try corrected',
  reassign: 'moved to or from another student',
}

/** One try, everything seen of it, and what became of it. */
export function tryInWords(attempt: AttemptView, time: (at: number) => string): string {
  const kind = attempt.official ? `Official try ${attempt.number}${attempt.extra ? ', extra, not counted' : ''}` : 'Practice'
  const seen = attempt.observations.map(({ outcome, value, fault, folds, percentFatHundredths }) =>
    [
      outcomes[outcome],
      value && sayMeasured(value),
      fault && plain(fault) !== outcomes[outcome] && `(${plain(fault)})`,
      folds.length > 0 && `folds ${folds.map((fold) => `${plain(fold.site)} ${(fold.halfMillimetres / 2).toFixed(1)}`).join(', ')} mm`,
      percentFatHundredths !== null && `${(percentFatHundredths / 100).toFixed(2)} % fat`,
    ]
      .filter(Boolean)
      .join(' '),
  )
  const load = attempt.load && attempt.observations.every((one) => one.value === null) ? `load ${sayMeasured(attempt.load)}` : null
  const finish = attempt.finish && `finish after ${sayAmount(attempt.finish.elapsedMs, 'milliseconds')}, ${attempt.finish.laps} laps`
  const interrupted = {
    hold: 'interrupted by safety hold: not counted, no try used',
    medicalStop: 'ended by a medical stop: not counted, no try used',
    withdrawal: 'ended by the student’s own choice',
  }
  return [
    kind,
    attempt.startedAt !== null && time(attempt.startedAt),
    load,
    ...seen,
    finish,
    attempt.interruptedBy && interrupted[attempt.interruptedBy],
    ...attempt.corrections.map((one) => corrections[one.kind] ?? plain(one.kind)),
    ...attempt.openReviews.map((because) => `under review: ${plain(because)}`),
  ]
    .filter(Boolean)
    .join('; ')
}
