import { ledgerContract } from './contract.ts'
import { memoryLedger } from './memory.ts'

ledgerContract('memory', async () => {
  const ledger = memoryLedger()
  return { ledger, close: () => ledger.close() }
})
