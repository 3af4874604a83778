/** A pause that may be cut short, before it begins as well. */
export class Rest {
  #end: (() => void) | undefined
  #cutShort = false

  begin(ms: number): Promise<void> {
    const { promise, resolve } = later()
    if (this.#cutShort) resolve()
    const timer = setTimeout(resolve, ms)
    this.#end = resolve
    return promise.finally(() => {
      clearTimeout(timer)
      this.#cutShort = false
      this.#end = undefined
    })
  }

  end(): void {
    this.#cutShort = true
    this.#end?.()
  }
}

function later(): { promise: Promise<void>; resolve: () => void } {
  let resolve = () => {}
  const promise = new Promise<void>((done) => {
    resolve = done
  })
  return { promise, resolve }
}
