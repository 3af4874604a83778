import type { RunReading } from './laps.ts'
import { sayValue } from './units.ts'
import type { Step } from './working.ts'

/** How a runner's taps came to a finish, for the working of the try: every crossing, what was set aside, what was inferred. */
export function lapSteps({ crossings, ignored, outcome }: RunReading): Step[] {
  const inferred = crossings.filter((crossing) => crossing.inferred).length
  return [
    ...crossings.map((crossing): Step => ({
      step: 'read',
      rule: `crossing ${crossing.lap}${crossing.inferred ? ', inferred by a person' : ''}`,
      from: crossing.tapId,
      gives: sayValue(crossing.elapsedMs, 'milliseconds'),
      sources: [crossing.tapId],
    })),
    ...ignored.map((tap): Step => ({
      step: 'read',
      rule: `a tap that does not count: ${tap.why}`,
      from: tap.tapId,
      gives: sayValue(tap.elapsedMs, 'milliseconds'),
      sources: [tap.tapId],
    })),
    {
      step: 'counts',
      rule: `${crossings.length} crossings${inferred > 0 ? `, ${inferred} of them inferred` : ''}`,
      from: 'the crossings above',
      gives: outcome.state === 'finished' ? sayValue(outcome.elapsedMs, 'milliseconds') : outcome.state,
      sources: crossings.map((crossing) => crossing.tapId),
    },
  ]
}
