/** One line of how a score was got. Stations write the first lines in the same form. */
export interface Step {
  step: 'read' | 'counts' | 'derived' | 'rounded' | 'group' | 'lookedUp' | 'standard' | 'warning'
  rule: string
  from: string
  gives: string
  /** Ids of the attempts or observations behind it; none where the line rests on the one before. */
  sources: readonly string[]
}
