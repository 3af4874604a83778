import { chance } from '@musterbook/day/outlook/chance'

/** Chance of one small thing: it hangs on the names it was made of and on nothing that happened before. */
export class Luck {
  readonly #next: () => number

  constructor(...names: readonly (string | number)[]) {
    this.#next = chance(hashOf(names.join(' ')))
  }

  /** From 0 to below 1. */
  next(): number {
    return this.#next()
  }

  is(probability: number): boolean {
    return this.#next() < probability
  }

  /** A whole number from `from` to `to`, both included. */
  between(from: number, to: number): number {
    return from + Math.floor(this.#next() * (to - from + 1))
  }

  one<Value>(...values: readonly Value[]): Value {
    return values[Math.floor(this.#next() * values.length)]!
  }

  among<Value>(values: readonly Value[]): Value | undefined {
    return values[Math.floor(this.#next() * values.length)]
  }
}

/** FNV-1a, 32 bit. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5
  for (let index = 0; index < text.length; index++) hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193)
  return hash >>> 0
}
