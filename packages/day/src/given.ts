import { expect } from 'vitest'
import type { DayEvent } from '@musterbook/vocabulary/events'
import { DayEvent as Schema } from '@musterbook/vocabulary/events'
import type { Rule } from '@musterbook/vocabulary/refusals'
import { drive, type Drive, type Step, type Told } from './controls.ts'
import type { Day } from './day.ts'

/** What the last command came to. Events are named by what matters of them. */
type Outcome = { refused: Rule; says?: RegExp; next?: RegExp } | { events: readonly (DayEvent['type'] | Partial<DayEvent>)[] }

/** `given(what stands).when(what is asked).then(what the day says)`; the day as it stands afterwards goes on. */
export function given(...steps: readonly Step[]): Given {
  const driven = drive()
  steps.forEach((step) => step(driven))
  return new Given(driven)
}

class Given {
  readonly drive: Drive
  #last: Told | undefined

  constructor(driven: Drive) {
    this.drive = driven
  }

  get day(): Day {
    return this.drive.day
  }

  when(...steps: readonly Step[]): this {
    for (const step of steps) this.#last = step(this.drive) ?? undefined
    return this
  }

  then(outcome: Outcome): this {
    const told = this.#last
    if (!told) throw new Error('the last step told the day nothing')
    const entry = this.drive.entries.at(-1)
    expect(entry?.events.map((event) => Schema.parse(event))).toHaveLength(entry?.events.length ?? 0)
    if ('refused' in outcome) return this.#refused(told, outcome)
    expect(told.refused, told.refused?.says).toBeUndefined()
    const named = outcome.events.map((event) => (typeof event === 'string' ? { type: event } : event))
    expect(told.events).toMatchObject(named)
    return this
  }

  /** What the day shows now. */
  and(check: (day: Day) => void): this {
    check(this.day)
    return this
  }

  #refused(told: Told, { refused, says, next }: Extract<Outcome, { refused: Rule }>): this {
    expect(told.refused?.rule).toBe(refused)
    if (says) expect(told.refused?.says).toMatch(says)
    if (next) expect(told.refused?.next).toMatch(next)
    expect(told.events).toMatchObject([{ type: 'actRefused', rule: refused }])
    expect(this.day.refusals.at(-1)).toMatchObject({ rule: refused })
    return this
  }
}
