/** One line of how a value was got: which rule took what and gave what, and the events that it rests on. */
export interface Step {
  step: 'read' | 'counts' | 'derived' | 'rounded' | 'group' | 'lookedUp' | 'standard' | 'warning'
  rule: string
  from: string
  gives: string
  /** Ids of the attempts or observations behind it; none where the line rests on the one before. */
  sources: readonly string[]
}
