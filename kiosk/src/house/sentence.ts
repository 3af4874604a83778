import type { Outcome } from '../live/api.ts'
import { words } from '../words/words.ts'

/** What the site said, in one sentence, where a screen shows it beside what was asked. Nothing when it was recorded. */
export function sentenceOf(outcome: Outcome): string | undefined {
  switch (outcome.said) {
    case 'recorded':
      return undefined
    case 'refused':
      return `${outcome.refusal.says} ${outcome.refusal.next}`.trim()
    case 'noContact':
      return words.shell.notReached
    case 'notSignedOn':
      return words.shell.locked
    default:
      return String(outcome.problem.detail ?? outcome.problem.title ?? words.shell.notUnderstood)
  }
}
