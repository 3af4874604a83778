import { words } from '../words/words.ts'

/** A protocol's short name for what voids a try, as a button says it. A site's own word is shown as it wrote it. */
export const faultInWords = (fault: string): string =>
  words.station.faults[fault] ??
  fault.replaceAll(/([a-z])([A-Z])/g, (_, before: string, after: string) => `${before} ${after.toLowerCase()}`)
