/** What is done at an instant; `false` says that it set nothing off, so that nothing need settle behind it. */
type Work = () => unknown

/** Virtual time: what waits is done in the order of its instants, and no real clock is asked. */
export class Timeline {
  now: number
  readonly #heap: { at: number; order: number; work: Work }[] = []
  #order = 0
  #done = 0

  constructor(start: number) {
    this.now = start
  }

  at(instant: number, work: Work): void {
    const heap = this.#heap
    heap.push({ at: Math.max(instant, this.now), order: this.#order++, work })
    for (let child = heap.length - 1; child > 0;) {
      const parent = (child - 1) >> 1
      if (!isBefore(heap[child]!, heap[parent]!)) break
      ;[heap[child], heap[parent]] = [heap[parent]!, heap[child]!]
      child = parent
    }
  }

  after(ms: number, work: Work): void {
    this.at(this.now + ms, work)
  }

  wait(ms: number): Promise<void> {
    return new Promise((resolve) => this.after(ms, resolve))
  }

  /** Lives until `until`, or until `isOver` says so. Whatever one thing sets off at once is over before the next begins. */
  async run(until: number, isOver: () => boolean): Promise<void> {
    while (!isOver()) {
      const next = this.#heap[0]
      if (!next || next.at > until) break
      this.#pop()
      this.now = next.at
      if (next.work() !== false) await settled(++this.#done)
    }
    this.now = Math.max(this.now, until)
  }

  #pop(): void {
    const heap = this.#heap
    const last = heap.pop()!
    if (heap.length === 0) return
    heap[0] = last
    for (let parent = 0; ;) {
      const left = 2 * parent + 1
      const right = left + 1
      let least = parent
      if (left < heap.length && isBefore(heap[left]!, heap[least]!)) least = left
      if (right < heap.length && isBefore(heap[right]!, heap[least]!)) least = right
      if (least === parent) return
      ;[heap[least], heap[parent]] = [heap[parent]!, heap[least]!]
      parent = least
    }
  }
}

const isBefore = (one: { at: number; order: number }, other: { at: number; order: number }) =>
  one.at < other.at || (one.at === other.at && one.order < other.order)

/**
 * Every promise that can settle without anything else happening has settled by then: a tick that is asked for among them comes when none is
 * left. The machine is let look after itself only now and then: its own round costs more than what most instants set off.
 */
const settled = (done: number) => new Promise<void>((resolve) => (done % 500 === 0 ? setImmediate(resolve) : process.nextTick(resolve)))
