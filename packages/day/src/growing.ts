/**
 * A list that only grows. Each entry of a day makes the next day, and days long past go on being read: all of them share what they hold,
 * so that one more costs the same whether ten stand before it or a hundred thousand.
 */
export class Growing<Item> implements Iterable<Item> {
  readonly length: number
  /** May hold more than `length`: what comes behind belongs to lists that grew from this one. */
  readonly #shared: Item[]

  private constructor(shared: Item[], length: number) {
    this.#shared = shared
    this.length = length
  }

  static of<Item>(...items: Item[]): Growing<Item> {
    return new Growing(items, items.length)
  }

  /** The list with one more; this one stays what it is. */
  with(item: Item): Growing<Item> {
    // Another list has already grown from this one: what follows here is not what follows there.
    const shared = this.#shared.length === this.length ? this.#shared : this.#shared.slice(0, this.length)
    shared.push(item)
    return new Growing(shared, this.length + 1)
  }

  at(index: number): Item | undefined {
    const place = index < 0 ? this.length + index : index
    return place < this.length ? this.#shared[place] : undefined
  }

  [Symbol.iterator](): Iterator<Item> {
    return this.toArray().values()
  }

  map<To>(to: (item: Item, index: number) => To): To[] {
    return this.toArray().map(to)
  }

  filter(keeps: (item: Item, index: number) => unknown): Item[] {
    return this.toArray().filter(keeps)
  }

  find(is: (item: Item, index: number) => unknown): Item | undefined {
    return this.toArray().find(is)
  }

  some(is: (item: Item, index: number) => unknown): boolean {
    return this.toArray().some(is)
  }

  /** As lists are written: whoever writes a day down, or compares two, sees no difference. */
  toJSON(): Item[] {
    return this.toArray()
  }

  toArray(): Item[] {
    return this.#shared.slice(0, this.length)
  }
}
