interface Waiting {
  readonly work: () => Promise<void>
  readonly givesWay: boolean
}

/** Works off one thing after the other. What is urgent goes ahead of what gives way, and of nothing else: facts keep the order in which they came. */
export class Queue {
  readonly #waiting: Waiting[] = []
  #working: Promise<void> | undefined

  /** Settles as `work` does, once its turn has come and gone. */
  add<T>(work: () => Promise<T>, { urgent = false, givesWay = false } = {}): Promise<T> {
    return new Promise<T>((resolve, reject) => {
      const waiting: Waiting = { work: () => work().then(resolve, reject), givesWay }
      this.#waiting.splice(urgent ? this.#placeForUrgent() : this.#waiting.length, 0, waiting)
      this.#working ??= this.#run()
    })
  }

  /** Settles when nothing waits any more. */
  async idle(): Promise<void> {
    while (this.#working) await this.#working
  }

  #placeForUrgent(): number {
    return this.#waiting.findLastIndex((waiting) => !waiting.givesWay) + 1
  }

  async #run(): Promise<void> {
    for (let next = this.#waiting.shift(); next; next = this.#waiting.shift()) await next.work()
    this.#working = undefined
  }
}
