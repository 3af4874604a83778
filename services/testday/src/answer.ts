import type { Entry } from '@musterbook/ledger/ledger'
import type { Answer } from '@musterbook/vocabulary/command'
import type { DayEvent } from '@musterbook/vocabulary/events'
import { refusal, rules, type Rule } from '@musterbook/vocabulary/refusals'

/** What to tell whoever told the command that made this entry: the first time and each time after, the same. */
export function answerFrom(entry: Entry, toldTwice: boolean): Answer {
  const events = entry.events as unknown as readonly DayEvent[]
  const refused = events.find((event) => event.type === 'actRefused')
  if (!refused) return { recorded: { stream: entry.stream, version: entry.version, events }, toldTwice }

  const { rule, params, studentId, stationId } = refused
  if (!isRule(rule)) throw new RangeError(`entry ${entry.version} of ${entry.stream} refuses by a rule that nobody knows: ${rule}`)
  const about = { ...(studentId && { studentId }), ...(stationId && { stationId }) }
  return { refused: refusal(rule, params, about), version: entry.version, toldTwice }
}

const isRule = (name: string): name is Rule => Object.hasOwn(rules, name)
