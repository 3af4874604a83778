import { appendOne } from './append-decided.ts'
import { appendNats, appendNatsOnThree } from './append-nats.ts'
import { appendLedger, appendMany } from './append-sqlite.ts'
import { conflictsOf20Writers, largeLedger, type Figure } from './figures.ts'
import { firstLoad } from './first-load.ts'
import { flatCost } from './flat-cost.ts'
import { fold } from './fold.ts'
import { costByHistory } from './history.ts'
import { largeDay } from './large-day.ts'
import { library } from './library.ts'
import { liveView } from './live-view.ts'
import { hold, holdWorst, type Contest, type Result } from './measure.ts'

/** Each is told how far it has come, and says so to whoever waits. */
type Progress = (what: string) => void

/** A ratio that has an aim. */
export interface Budget {
  readonly name: string
  readonly measure: (progress: Progress) => Promise<Result>
  /** What keeps it from its aim, as far as it was found out: printed in the report where it misses, and only there. */
  readonly ifMissed?: string
}

/** What something costs, without an aim. */
interface Cost {
  readonly name: string
  readonly measure: (progress: Progress) => Promise<readonly Figure[]>
}

const contest = (one: Contest): Budget => ({ name: one.name, measure: (progress) => hold(one, progress) })

/** One line a budget, in the order in which they are measured. */
export const budgets: readonly Budget[] = [
  contest(appendOne),
  contest(appendLedger),
  contest(appendMany),
  contest(appendNats),
  contest(appendNatsOnThree),
  contest(fold),
  { name: 'liveView', measure: liveView },
  { name: flatCost.name, measure: (progress) => holdWorst(flatCost, progress) },
  { name: 'firstLoad', measure: firstLoad },
  contest(library),
]

/** One line a table of figures. */
export const costs: readonly Cost[] = [
  { name: 'largeLedger', measure: largeLedger },
  { name: 'largeDay', measure: largeDay },
  { name: 'history', measure: costByHistory },
  { name: 'writers', measure: conflictsOf20Writers },
]
