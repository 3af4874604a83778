import { z } from 'zod'
import type { Answer, Command } from '@musterbook/vocabulary/command'
import type { GatewayParts } from '../parts.ts'
import type { HouseContext } from './route.ts'
import { problem } from './problem.ts'
import { refusalStatus } from './refusal-status.ts'

/** "In the record": with the version at which it stands. */
export const RecordedAnswer = z.object({
  recorded: z.object({
    stream: z.string(),
    version: z.int(),
    events: z.array(z.looseObject({ type: z.string() })),
    /** The version of a view that shows it: versions of a day count on over its seal. */
    atLeast: z.int(),
  }),
  toldTwice: z.boolean(),
})

export async function tellDay(
  c: HouseContext,
  command: Command,
  { testDay, ledger, onBroken }: Pick<GatewayParts, 'testDay' | 'ledger' | 'onBroken'>,
): Promise<Response> {
  try {
    const answer = await testDay.tell(command)
    if (!('recorded' in answer)) return answerOver(c, answer)
    const { recorded, toldTwice } = answer
    const sealedAt = recorded.stream.startsWith('after/') ? (await ledger.head(`day/${command.dayId}`)).version : 0
    return c.json({ recorded: { ...recorded, atLeast: sealedAt + recorded.version }, toldTwice }, 201)
  } catch (error) {
    return notKnown(c, error, onBroken)
  }
}

/** What a day said, over HTTP. A refusal is a problem document that carries its rule, its sentence, what to do next and who can resolve it. */
export function answerOver(c: HouseContext, answer: Exclude<Answer, { recorded: unknown }>): Response {
  if ('noSuchDay' in answer) return problem(c, 404, 'There is no such day.')
  if ('commandIdReused' in answer) return commandIdReused(c)

  const { refused, version, toldTwice } = answer
  return problem(c, refusalStatus[refused.rule], `${refused.says} ${refused.next}`, { title: refused.says, refused, version, toldTwice })
}

export const commandIdReused = (c: HouseContext): Response =>
  problem(c, 409, 'This command id was told before with another body; nothing was done with this one.', { commandIdReused: true })

/** It may or may not be in the record: the same command told again finds out, and does no harm. */
export function notKnown(c: HouseContext, error: unknown, onBroken: GatewayParts['onBroken']): Response {
  onBroken(error, `${c.req.method} ${c.req.routePath}`)
  const says =
    (error as Error).name === 'UnreadableDay'
      ? 'What the ledger holds of this day cannot be read; it takes nothing until somebody has looked.'
      : 'It is not known whether this is in the record. Send it again under the same command id.'
  c.header('retry-after', '2')
  return problem(c, 503, says)
}
