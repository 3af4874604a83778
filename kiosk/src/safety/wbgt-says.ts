import type { ReadingStrip } from '@musterbook/day/views/parts'
import { words } from '../words/words.ts'

/** A WBGT in words: one that nobody measured never stands without saying so. */
export function wbgtSays({ wbgtTenths, unit, method }: Pick<ReadingStrip, 'wbgtTenths' | 'unit' | 'method'>): string {
  if (wbgtTenths === null) return words.common.unknown
  const degrees = words.safety.degrees(wbgtTenths, unit)
  return method === 'estimate' ? words.safety.estimate.value(degrees) : degrees
}
