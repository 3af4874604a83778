import { sayValue, type ReadingUnit } from '@musterbook/stations/units'
import type { DayEvent } from '@musterbook/vocabulary/events'
import { plain, sayMeasured } from './measured-words.ts'

const elapsed = (milliseconds: number): string => sayValue(milliseconds, 'milliseconds' as ReadingUnit)

/** One event on paper, in a few plain words. A new kind says at least its own name. */
export function eventInWords(event: DayEvent, who: (personId: string) => string): string {
  switch (event.type) {
    case 'crossingRecorded':
      return `Crossing (${event.line}) ${elapsed(event.elapsedMs)} after the gun${event.ignored ? `; not a lap: ${plain(event.ignored)}` : ''}`
    case 'lapInferred':
      return `A crossing ${elapsed(event.elapsedMs)} after the gun was inferred by a person; nobody tapped it`
    case 'finishRecorded':
      return `Finish ${elapsed(event.elapsedMs)} after the gun, ${event.laps} laps`
    case 'waveStarted':
      return `Wave started with ${event.studentIds.length} runners${event.official ? '' : ', practice'}`
    case 'promptAnswered':
      return `The screen asked: ${event.shown}. Answer: ${plain(event.answer)}`
    case 'resultRecorded':
      return `Result ${plain(event.outcome)}${event.value ? `: ${sayMeasured(event.value)}` : ''}`
    case 'weighed':
      return `Body mass ${sayMeasured(event.mass)}, scale ${event.scaleId}`
    case 'equipmentChecked':
      return `${event.equipmentId} checked: ${event.passed ? 'passed' : 'failed'}`
    case 'corrected':
      return `Corrected: ${event.change.kind === 'value' ? `value is ${sayMeasured(event.change.value)}` : plain(event.change.kind)}; correction ${event.correctionId}${event.countersigned ? `, countersigned by ${who(event.countersigned.personId)}` : ''}`
    case 'reviewOpened':
      return `Waits for a decision: ${plain(event.because)}`
    case 'reviewRuled':
      return `Ruled: ${plain(event.ruling)}`
    case 'holdRaised':
      return `Hold raised: ${event.kind}${event.zoneId ? `, zone ${event.zoneId}` : ', everywhere outdoors'}`
    case 'holdLifted':
      return 'Hold lifted'
    case 'actRefused':
      return `Refused: ${plain(event.act)}, ${plain(event.rule)}`
    default:
      return sentence(plain(event.type))
  }
}

const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)
