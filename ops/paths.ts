import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const house = fileURLToPath(new URL('..', import.meta.url))

export const usualData = join(house, '.data')
/** Beside the data folder, never in it: whoever copies the data has no key. */
export const usualKeyFile = join(house, '.keys', 'medical.key')

export const ledgerFile = (data: string): string => join(data, 'ledger.sqlite')
