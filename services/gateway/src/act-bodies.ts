import { z } from 'zod'
import type { ActName } from '@musterbook/vocabulary/act-table'
import { acts } from '@musterbook/vocabulary/acts'

/** What a person may type into one field. */
const TypedText = z.string().trim().min(1).max(2000)

/** Opening a day pins rules that the office composes from what was adopted, so it is never told as it stands. */
export type OpenAct = Exclude<ActName, 'openDay'>
export const openActs = (Object.keys(acts) as ActName[]).filter((name): name is OpenAct => name !== 'openDay')

/** The body of an act as it comes over HTTP: free text as it was typed, and nothing that the gateway fills in itself. */
export function bodyOverHttp(name: OpenAct): z.ZodObject {
  const { body, texts } = acts[name]
  const typed = Object.fromEntries(texts.map((field) => [field, mayBeNull(body, field) ? TypedText.nullable() : TypedText]))
  const told = (body as z.ZodObject).extend(typed)
  // Whether somebody is qualified is the office's to say: what a screen believes is read over.
  return name === 'assignStaff' ? told.extend({ qualified: z.boolean().optional() }) : told
}

function mayBeNull(body: z.ZodObject, field: string): boolean {
  const schema = body.shape[field]
  if (!schema) throw new Error(`the act's table names a text field ${field} that its body does not have`)
  return (schema as z.ZodType).safeParse(null).success
}
