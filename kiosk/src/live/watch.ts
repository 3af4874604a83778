import { signal, type ReadonlySignal } from '@preact/signals'
import type { AnyActorRef, SnapshotFrom } from 'xstate'

/** Lets a screen read an actor as it reads any other signal. */
export function watch<A extends AnyActorRef>(actor: A): ReadonlySignal<SnapshotFrom<A>> {
  const snapshot = signal<SnapshotFrom<A>>(actor.getSnapshot())
  actor.subscribe((next: SnapshotFrom<A>) => {
    snapshot.value = next
  })
  return snapshot
}
