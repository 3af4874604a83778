import { chance as seeded } from '@musterbook/day/outlook/chance'

/** Chance of the demonstration: the same seed gives the same day. */
export interface Chance {
  next(): number
  between(from: number, to: number): number
  shuffled<Item>(items: readonly Item[]): Item[]
}

export function chance(seed: number): Chance {
  const next = seeded(seed)
  return {
    next,
    between: (from, to) => from + next() * (to - from),
    shuffled: (items) =>
      items
        .map((item) => ({ item, at: next() }))
        .sort((one, other) => one.at - other.at)
        .map(({ item }) => item),
  }
}
