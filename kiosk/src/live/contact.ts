import { computed, type ReadonlySignal } from '@preact/signals'
import type { Clock } from './clock.ts'
import type { LiveView } from './live.ts'

/**
 * How long ago the site was last heard over any of these streams, in milliseconds of the site's clock; nothing while it never was.
 * A device that has just been started goes on counting from where it stood. Moves with `clock.now`, once a second.
 */
export function contactAge(
  clock: Clock,
  streams: ReadonlySignal<readonly Pick<LiveView<unknown>, 'heardAt'>[]>,
  heardBefore: number | undefined,
  steady = () => performance.now(),
): ReadonlySignal<number | undefined> {
  return computed(() => {
    void clock.now.value
    const heard = streams.value.flatMap(({ heardAt }) => heardAt.value ?? [])
    if (heard.length > 0) return Math.max(0, (steady() - Math.max(...heard)) * clock.speed.value)
    return heardBefore === undefined ? undefined : Math.max(0, clock.siteNow() - heardBefore)
  })
}
