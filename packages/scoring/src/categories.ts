/** Names for stretches of percentiles, as NSCA prints them. A site may adopt others. */
export interface Category {
  name: string
  from: number
}

export const publishedCategories: readonly Category[] = [
  { name: 'Superior', from: 95 },
  { name: 'Excellent', from: 80 },
  { name: 'Good', from: 60 },
  { name: 'Fair', from: 40 },
  { name: 'Poor', from: 20 },
  { name: 'Very poor', from: 0 },
]

/** Best first. A value below the last row of a table stands in the lowest category only if that row reaches into it. */
export function categoryOf(placing: { percentile: number | null; belowRow?: number }, categories: readonly Category[]): string | null {
  const { percentile, belowRow } = placing
  if (percentile !== null) return categories.find((category) => percentile >= category.from)?.name ?? null
  if (belowRow === undefined) return null
  const lowest = categories.at(-1)
  const above = categories.at(-2)
  return lowest && above && belowRow <= above.from ? lowest.name : null
}
