/** One place of work: so many students may be served there beside each other, each time so many at once (a wave). */
export interface Post {
  stationId: string
  places: number
  atOnce: number
  /** Who may serve there. Whoever stands at two stations serves at one of them at a time. */
  crew: readonly string[]
}

/** Somebody who still has stations to go to, from the moment at which they are free. */
export interface Errand {
  studentId: string
  freeAt: number
  stationIds: readonly string[]
}

/** How long one student takes there this time; of a wave the slowest counts. */
export type Draw = (stationId: string, random: () => number) => number

export interface Course {
  endsAt: number
  /** By station: when its last one is done, how long it worked, and how long all together waited with nothing else to do. */
  stations: ReadonlyMap<string, { endsAt: number; workedMs: number; waitedMs: number; served: number }>
  /** Who could not be served, because the station they need has no place. */
  stranded: number
}

interface Walker {
  freeSince: number
  needs: Set<string>
}
interface Working {
  post: Post
  idle: number
  needing: number
  endsAt: number
  workedMs: number
  waitedMs: number
  served: number
}

interface Leaving {
  one: Working
  server: string
}

/**
 * The rest of a day, played once: whoever is free goes to the station with the longest way still before it that has a
 * place; of those who are free, who has waited longest goes first. A wave starts when its share of those left stands at the line.
 */
export function simulate(posts: readonly Post[], errands: readonly Errand[], draw: Draw, random: () => number): Course {
  const working = new Map(posts.map((post) => [post.stationId, atStart(post, errands)]))
  const coming = new Queue<{ walker: Walker; leaves: Leaving | null }>()
  const posted = posts.flatMap(({ crew }) => crew)
  /** Who is needed at fewest stations serves first. */
  const crews = new Map(
    posts.map(({ stationId, crew }) => [stationId, [...crew].sort((one, other) => times(posted, one) - times(posted, other))]),
  )
  const busy = new Set<string>()
  let free: Walker[] = []
  for (const { freeAt, stationIds } of errands)
    coming.push(freeAt, {
      walker: { freeSince: freeAt, needs: new Set(stationIds.filter((id) => (working.get(id)?.post.places ?? 0) > 0)) },
      leaves: null,
    })

  let now = 0
  for (let next = coming.pop(); next; next = coming.pop()) {
    now = next.at
    arrive(next.what, now)
    while (coming.soonest() === now) arrive(coming.pop()!.what, now)
    serve(now)
  }

  function arrive({ walker, leaves }: { walker: Walker; leaves: Leaving | null }, at: number): void {
    if (leaves) {
      leaves.one.idle += 1
      busy.delete(leaves.server)
    }
    walker.freeSince = at
    if (walker.needs.size > 0) free.push(walker)
  }

  function serve(at: number): void {
    // The longest way first: it is what the day waits for.
    const order = [...working.values()].sort((one, other) => other.needing / other.post.places - one.needing / one.post.places)
    for (const one of order)
      while (one.idle > 0) {
        const server = crews.get(one.post.stationId)!.find((person) => !busy.has(person))
        const here = free.filter(({ needs }) => needs.has(one.post.stationId)).slice(0, one.post.atOnce)
        if (server === undefined || here.length === 0 || here.length < shareOf(one)) break
        start(one, here, server, at)
      }
  }

  function start(one: Working, here: readonly Walker[], server: string, at: number): void {
    const takes = Math.max(...here.map(() => draw(one.post.stationId, random)))
    const gone = new Set(here)
    free = free.filter((walker) => !gone.has(walker))
    one.needing -= here.length
    one.served += here.length
    one.idle -= 1
    busy.add(server)
    one.workedMs += takes
    one.endsAt = Math.max(one.endsAt, at + takes)
    for (const [i, walker] of here.entries()) {
      one.waitedMs += at - walker.freeSince
      walker.needs.delete(one.post.stationId)
      // The place is free again when the wave is in: told once.
      coming.push(at + takes, { walker, leaves: i === 0 ? { one, server } : null })
    }
  }

  return {
    endsAt: now,
    stations: new Map([...working].map(([id, { endsAt, workedMs, waitedMs, served }]) => [id, { endsAt, workedMs, waitedMs, served }])),
    stranded: errands.filter(({ stationIds }) => stationIds.some((id) => !working.get(id)?.post.places)).length,
  }
}

const times = (all: readonly string[], one: string): number => all.filter((other) => other === one).length

const atStart = (post: Post, errands: readonly Errand[]): Working => ({
  post,
  idle: post.places,
  needing: errands.filter(({ stationIds }) => stationIds.includes(post.stationId)).length,
  endsAt: 0,
  workedMs: 0,
  waitedMs: 0,
  served: 0,
})

/** Waves of about the same size, none larger than the line takes. */
function shareOf({ post, needing }: Working): number {
  const waves = Math.ceil(needing / post.atOnce)
  return Math.ceil(needing / waves)
}

/** What happens next, soonest first; what happens at the same time stays in the order in which it was said. */
class Queue<What> {
  readonly #heap: { at: number; turn: number; what: What }[] = []
  #turn = 0

  soonest(): number | undefined {
    return this.#heap[0]?.at
  }

  push(at: number, what: What): void {
    const heap = this.#heap
    heap.push({ at, turn: this.#turn++, what })
    for (let i = heap.length - 1; i > 0;) {
      const up = (i - 1) >> 1
      if (!isBefore(heap[i]!, heap[up]!)) break
      ;[heap[i], heap[up]] = [heap[up]!, heap[i]!]
      i = up
    }
  }

  pop(): { at: number; what: What } | undefined {
    const heap = this.#heap
    const first = heap[0]
    const last = heap.pop()
    if (!first || !last || heap.length === 0) return first
    heap[0] = last
    for (let i = 0; ;) {
      const [left, right] = [2 * i + 1, 2 * i + 2]
      let least = i
      if (heap[left] && isBefore(heap[left], heap[least]!)) least = left
      if (heap[right] && isBefore(heap[right], heap[least]!)) least = right
      if (least === i) return first
      ;[heap[i], heap[least]] = [heap[least]!, heap[i]!]
      i = least
    }
  }
}

const isBefore = (one: { at: number; turn: number }, other: { at: number; turn: number }): boolean =>
  one.at < other.at || (one.at === other.at && one.turn < other.turn)
