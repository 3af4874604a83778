export interface PlacingParts {
  percentile: string
  how: 'met' | 'below' | 'orBetter'
}

/** What a placing's label says (`60th`, `below 10th`, `60th or better`), for whoever says it in another language; nothing where there is no norm. */
export function partsOfPlacing(label: string): PlacingParts | undefined {
  const [, below, percentile, better] = /^(below )?(\d+)(?:st|nd|rd|th)( or better)?$/.exec(label) ?? []
  if (percentile === undefined) return undefined
  return { percentile, how: below ? 'below' : better ? 'orBetter' : 'met' }
}
