import type { ValidTry } from './best-of.ts'
import { demoProtocols } from './demo-protocols.ts'
import type { Protocol, ProtocolOf } from './protocol.ts'
import type { ReadingUnit } from './units.ts'

/** One of the demonstration's protocols by its kind. */
export function demoProtocol<Kind extends Protocol['kind']>(kind: Kind): ProtocolOf<Kind> {
  const found = demoProtocols.find((protocol) => protocol.kind === kind)
  if (!found) throw new Error(`no demonstration protocol of kind ${kind}`)
  return found as ProtocolOf<Kind>
}

/** Valid tries in one unit, named try-1, try-2, … */
export const validTries = (unit: ReadingUnit, ...amounts: number[]): ValidTry[] =>
  amounts.map((amount, index) => ({ attemptId: `try-${index + 1}`, amount, unit }))
