import { readingWords } from '@musterbook/heat/reading-words'
import { board } from './en/board.ts'
import { briefing } from './en/briefing.ts'
import { carried } from './en/carried.ts'
import { checkIn } from './en/check-in.ts'
import { floor } from './en/floor.ts'
import { paper } from './en/paper.ts'
import { run } from './en/run.ts'
import { safety } from './en/safety.ts'
import { weighIn } from './en/weigh-in.ts'
import { alsoSay } from './words.ts'

/** What the floor's screens besides the station's say in English. They import this file: the station, whose first load is counted, does not. */
export const floorScreens = {
  board,
  briefing,
  carried,
  checkIn,
  floor,
  paper,
  run,
  safety,
  weighIn,

  readingChecks: readingWords,
}

export type FloorScreens = typeof floorScreens

alsoSay(floorScreens)
