import type { SafetyView } from '@musterbook/day/views/safety'
import type { StationView } from '@musterbook/day/views/station'
import type { View } from '@musterbook/vocabulary/ports'
import type { ViewName } from '../view-roles.ts'

/** Does the newer row show another hold or stop than the one before? Then it waits for nothing. */
export function isUrgent(view: ViewName, before: View | undefined, now: View): boolean {
  const part = urgentPart[view]
  return part !== undefined && before?.body !== now.body && (!before || part(before.body) !== part(now.body))
}

const urgentPart: Partial<Record<ViewName, (body: unknown) => string>> = {
  safety: (body) => {
    const { holds, stops } = body as Partial<SafetyView>
    return JSON.stringify([holds, stops])
  },
  station: (body) => {
    const { hold, students = [], waves = [] } = body as Partial<StationView>
    const stopped = students
      .filter(({ gates }) => gates.some(({ gate, state }) => gate === 'stop' && state !== 'met'))
      .map(({ studentId }) => studentId)
    const halted = waves.flatMap(({ runners }) =>
      runners.filter(({ status }) => status === 'stopped' || status === 'held').map(({ attemptId }) => attemptId),
    )
    return JSON.stringify([hold, stopped.sort(), halted])
  },
}
