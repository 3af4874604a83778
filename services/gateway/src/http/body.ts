import type { Context } from 'hono'
import type { z } from 'zod'
import { problem, unlikeSchema } from './problem.ts'

/** What an act or a form needs. Rosters and pictures ask for more. */
export const usualLimitBytes = 256 * 1024

type Read<T> = { body: T } | { no: Response }

/** Reads a JSON body no longer than its limit and parses it by its schema, or says what is not right with it. */
export async function readBody<S extends z.ZodType>(c: Context, schema: S, limitBytes: number): Promise<Read<z.infer<S>>> {
  const type = c.req.header('content-type') ?? ''
  if (!/^application\/json\s*(;|$)/i.test(type)) return { no: problem(c, 415, 'Send the content type application/json.') }
  const read = await readBytes(c, limitBytes)
  if ('no' in read) return read

  let told: unknown
  try {
    told = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(read.body))
  } catch {
    return { no: problem(c, 400, 'The body could not be read as JSON.') }
  }
  const parsed = schema.safeParse(told)
  return parsed.success ? { body: parsed.data } : { no: unlikeSchema(c, parsed.error) }
}

/** What a sender claims about the length is used against, never for it. */
export async function readBytes(c: Context, limitBytes: number): Promise<Read<Uint8Array>> {
  const tooLong = () => ({ no: problem(c, 413, `At most ${limitBytes} bytes are taken here.`) })
  if (Number(c.req.header('content-length') ?? 0) > limitBytes) return tooLong()

  const chunks: Uint8Array[] = []
  let length = 0
  for await (const chunk of (c.req.raw.body ?? []) as AsyncIterable<Uint8Array>) {
    length += chunk.byteLength
    if (length > limitBytes) return tooLong()
    chunks.push(chunk)
  }
  return { body: new Uint8Array(Buffer.concat(chunks)) }
}
