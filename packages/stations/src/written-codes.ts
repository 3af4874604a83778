import type { Protocol } from './protocol.ts'

/** What stands on a paper sheet where no value does: `F2`. The same on the sheet and where it is typed in. */
export interface WrittenCode {
  code: string
  outcome: 'foul' | 'noLift' | 'noFaultRerun' | 'didNotFinish'
  /** One of the protocol's own words; null: the sheet does not say which. */
  fault: string | null
}

/** F voids the try, A is run again through nobody's fault, N was not finished; the bare letter where nothing more was written. */
export function writtenCodes(protocol: Protocol): WrittenCode[] {
  const ended = protocol.kind === 'run' ? protocol.details.didNotFinish : ['stoppedByChoice']
  return [
    ...numbered('F', protocol.kind === 'loaded' ? 'noLift' : 'foul', protocol.faults),
    ...numbered('A', 'noFaultRerun', protocol.noFaults),
    ...numbered('N', 'didNotFinish', ended),
  ]
}

const numbered = (letter: string, outcome: WrittenCode['outcome'], faults: readonly string[]): WrittenCode[] => [
  { code: letter, outcome, fault: null },
  ...faults.map((fault, index) => ({ code: `${letter}${index + 1}`, outcome, fault })),
]

/** How often a fold may be read on a sheet: twice, and once more where the two differ. */
export const foldColumns = 3

/** A sheet's number, as it stands beside its code: month and day, the station's place in the day, the sheet. */
export const sheetNumber = (date: string, station: number, sheet: number): string =>
  `${date.slice(5).replace('-', '')}-${station + 1}-${sheet + 1}`

/** Which station of the day a sheet is for, by its number; null where the number is none of that day's. */
export function stationOfSheet(number: string, date: string): number | null {
  const [, day, station] = /^\s*(\d{4})-(\d{1,2})-\d{1,3}\s*$/.exec(number) ?? []
  return day === date.slice(5).replace('-', '') && station ? Number(station) - 1 : null
}
