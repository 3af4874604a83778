import { medical } from './en/medical.ts'
import { office } from './en/office.ts'
import { records } from './en/records.ts'
import { replay } from './en/replay.ts'
import { supervisor } from './en/supervisor.ts'
import { alsoSay } from './words.ts'

/**
 * Screens that speak English only for now; whoever opens one in another language is told so. They import this file: a screen of the floor
 * does not load it.
 */
export const englishOnly = {
  medical,
  office,
  records,
  replay,
  supervisor,

  /** What stands where a screen would that needs the server. */
  needsServer: {
    title: 'This screen needs the server',
    help: 'The server was not reached. Medical, office, supervisor and replay show nothing without it.',
    again: 'Try again',
    others: 'These open without it',
    screens: {
      station: 'Station',
      run: 'Track',
      safety: 'Safety',
      briefing: 'Briefing',
      floor: 'Floor',
      'check-in': 'Check-in',
      'weigh-in': 'Weigh-in',
    },
  },
}

export type EnglishOnly = typeof englishOnly

alsoSay(englishOnly)
