import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const house = fileURLToPath(new URL('..', import.meta.url))

export const usualData = join(house, '.data')
/** Beside the data folder, never in it: whoever copies the data has no key. */
export const usualKeyFile = join(house, '.keys', 'medical.key')

/** The site's own authority, the machine's certificate, and their keys. */
export const usualCertificateFolder = join(house, '.keys', 'certificate')

export const ledgerFile = (data: string): string => join(data, 'ledger.sqlite')
