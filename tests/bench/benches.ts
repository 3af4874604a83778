import { appendOne } from './append-decided.ts'
import { appendNats, appendNatsOnThree } from './append-nats.ts'
import { appendLedger, appendMany } from './append-sqlite.ts'
import { conflictsOf20Writers, largeLedger, type Figure } from './figures.ts'
import { firstLoad } from './first-load.ts'
import { flatCost } from './flat-cost.ts'
import { fold } from './fold.ts'
import { busyDay } from './busy-day.ts'
import { costByHistory } from './history.ts'
import { largeDay } from './large-day.ts'
import { library } from './library.ts'
import { liveView } from './live-view.ts'
import { largeReplay, replayOpen, replayStep } from './replay-desk.ts'
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

const contest = (one: Contest, ifMissed?: string): Budget => ({
  name: one.name,
  measure: (progress) => hold(one, progress),
  ...(ifMissed && { ifMissed }),
})

/** One line a budget, in the order in which they are measured. */
export const budgets: readonly Budget[] = [
  contest(
    appendOne,
    'an entry costs about 0.09 ms of work beside the sync (its body and its text digested, its events parsed on the way in, a turn of the event loop for the group), so the ratio follows the disk: where a sync takes 0.1 ms, as on this virtual disk when it is quiet, that is nearly half; where it takes 0.5 ms or more it is a sixth and less.',
  ),
  contest(
    appendLedger,
    'putting an entry together and waiting for the others of its tick cost about 0.03 ms, which shows where a sync takes hardly more than that.',
  ),
  contest(appendMany),
  contest(
    appendNats,
    'the client, the server and whatever else the machine does share its cores: the entry is put together and read back where the raw publish has ready text.',
  ),
  contest(appendNatsOnThree),
  contest(fold),
  { name: 'liveView', measure: liveView },
  { name: flatCost.name, measure: (progress) => holdWorst(flatCost, progress) },
  {
    name: 'firstLoad',
    measure: firstLoad,
    ifMissed:
      'a size above the aim is code that the station screen loads before it stands; under the aim, it is missed because the screen does not open without the site.',
  },
  { name: 'busyDay', measure: busyDay },
  { name: 'replayOpen', measure: replayOpen },
  { name: 'replayStep', measure: replayStep },
  contest(
    library,
    'the ledger already runs near the rate of a raw insert with the same durability (appendLedger), which waits for one sync of the disk: even that raw insert is not ten times quicker than the library here, and the slower a sync, the nearer the two come.',
  ),
]

/** One line a table of figures. */
export const costs: readonly Cost[] = [
  { name: 'largeLedger', measure: largeLedger },
  { name: 'largeDay', measure: largeDay },
  { name: 'history', measure: costByHistory },
  { name: 'largeReplay', measure: largeReplay },
  { name: 'writers', measure: conflictsOf20Writers },
]
