import type { Gate } from '@musterbook/day/gates'
import type { HeardRefusal, Outcome } from '../live/api.ts'
import { spokenLanguage } from '../words/languages.ts'
import { words } from '../words/words.ts'

/** A "no" in the language of the screen; one that this screen has no words for, as the site said it. */
export function refusalSays({ rule, params, says, next, who }: HeardRefusal): { says: string; next: string; who: string } {
  const known = knownRule(words.refusals, rule) ?? knownRule(words.siteRefusals, rule)
  const fallback = words.refusal.fallback
  // A runner's own reason stands inside the wave's.
  const own = knownRule(words.refusals, String(params['rule']))
  const named = own ? { ...params, why: own.says(params) } : params
  return {
    says: known?.says(named) || says || fallback.says,
    next: known?.next(params) || next || fallback.next,
    who: known?.who || who || fallback.who,
  }
}

/** What stands in the way at a gate, in the language of the screen. */
export function gateSays({ gate, rule, params, says, next, who }: Gate): { says: string; next: string; who: string } {
  return rule
    ? refusalSays({ rule, params, says: says ?? gate, next: next ?? '', who: who ?? '' })
    : { says: says ?? gate, next: next ?? '', who: who ?? '' }
}

const knownRule = (rules: typeof words.siteRefusals, rule: string) => (Object.hasOwn(rules, rule) ? rules[rule] : undefined)

/** What the site said, in one sentence, where a screen shows it beside what was asked. Nothing when it was recorded. */
export function sentenceOf(outcome: Outcome): string | undefined {
  if (outcome.said === 'recorded' || outcome.said === 'kept') return undefined
  if (outcome.said === 'refused') {
    const { says, next } = refusalSays(outcome.refusal)
    return `${says} ${next}`
  }
  if (outcome.said === 'noContact') return words.shell.notReached
  if (outcome.said === 'notKept') return `${words.shell.notKept} ${words.shell.notKeptNext}`
  if (outcome.said === 'notSignedOn') return words.shell.locked
  return problemSays(outcome)
}

/** The site's own sentence is English and the more exact; in another language the kind of trouble is said. */
export function problemSays(outcome: Extract<Outcome, { problem: unknown }>): string {
  const own = String(outcome.problem.detail ?? outcome.problem.title ?? '')
  if (spokenLanguage.value === 'en' && own !== '') return own
  return outcome.said === 'notThere' ? words.shell.notUnderstood : words.outcomes[outcome.said]
}
