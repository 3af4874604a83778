import { computed, type ReadonlySignal } from '@preact/signals'
import type { Clock } from './clock.ts'
import type { LiveView } from './live.ts'

/**
 * How long ago the site was last heard over any of these views, in milliseconds of the site's clock; nothing while it never was.
 * Moves with `clock.now`, once a second.
 */
export function contactAge(clock: Clock, views: readonly Pick<LiveView<unknown>, 'heardAt'>[], steady = () => performance.now()) {
  return computed(() => {
    void clock.now.value
    const heard = views.map(({ heardAt }) => heardAt.value).filter((at) => at !== undefined)
    return heard.length === 0 ? undefined : Math.max(0, (steady() - Math.max(...heard)) * clock.speed.value)
  }) satisfies ReadonlySignal<number | undefined>
}
