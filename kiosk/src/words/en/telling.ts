import { en } from '../en.ts'
import { replay } from './replay.ts'
import { sentencesEn, type Telling } from './sentences.ts'
import { supervisor } from './supervisor.ts'

const lowered = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1)

/** How the day is told in English. */
export const tellingEn: Telling = {
  ...supervisor.replay,
  notCertain: replay.notCertain,
  holdGoverns: replay.holdGoverns,
  notCertainHelp: replay.notCertainHelp,
  clocks: (happened, bandMs, recorded) => supervisor.replay.clocks(replay.band(happened, `${bandMs} ms`), recorded),
  theHold: (kind, zone) => supervisor.replay.theHold(en.raiseHold.kinds[kind].toLowerCase(), zone),
  because: (reason) => lowered(supervisor.inbox.because[reason] ?? reason),
  refusal: (rule, params) => en.refusals[rule as keyof typeof en.refusals]?.says(params) ?? rule,
  sentences: sentencesEn,
}
