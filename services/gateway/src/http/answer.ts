import { z } from 'zod'
import type { Answer } from '@musterbook/vocabulary/command'
import type { HouseContext } from './route.ts'
import { problem } from './problem.ts'
import { refusalStatus } from './refusal-status.ts'

/** "In the record": with the version at which it stands. */
export const RecordedAnswer = z.object({
  recorded: z.object({ stream: z.string(), version: z.int(), events: z.array(z.looseObject({ type: z.string() })) }),
  toldTwice: z.boolean(),
})

/** What a day said, over HTTP. A refusal is a problem document that carries its rule, its sentence, what to do next and who can resolve it. */
export function answerOver(c: HouseContext, answer: Answer): Response {
  if ('recorded' in answer) return c.json(answer, 201)
  if ('noSuchDay' in answer) return problem(c, 404, 'There is no such day.')
  if ('commandIdReused' in answer)
    return problem(c, 409, 'This command id was told before with another body; nothing was done with this one.', { commandIdReused: true })

  const { refused, version, toldTwice } = answer
  return problem(c, refusalStatus[refused.rule], `${refused.says} ${refused.next}`, { title: refused.says, refused, version, toldTwice })
}
