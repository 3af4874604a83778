import { applyPatch, type Operation } from 'fast-json-patch'

/** What a row of a day may come as, beside whole. */
export const rowDifferences = ['difference']

interface Difference {
  readonly from: number
  readonly patch: Operation[]
}

/** A row of a day as it stands after what came: the row itself, or a JSON Patch (RFC 6902) of what stood at the version that it names. */
export function applyRow<View>(view: View | undefined, data: unknown, name: string, version: string | undefined): View {
  if (name === 'message') return (data as { body: View }).body
  const { from, patch } = data as Difference
  if (view === undefined || version !== String(from)) throw new RangeError(`what changed since ${from} does not fit ${version}`)
  return applyPatch(view, patch, false, false).newDocument
}
