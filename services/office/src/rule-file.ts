import { digest } from '@musterbook/evidence/canonical'
import type { Offer, RuleFilePreview } from '@musterbook/vocabulary/office'
import { RuleKind } from '@musterbook/vocabulary/office-events'
import { officeRefusal } from '@musterbook/vocabulary/office-refusals'
import { findNodeAtLocation, type Node, type ParseError, parseTree, printParseErrorCode } from 'jsonc-parser'
import { z } from 'zod'
import type { ContentProblem } from './rule-content.ts'

/** What stands in the file of a rule. The checksum is over the canonical form (RFC 8785) of everything but itself. */
const RuleFile = z.strictObject({
  file: z.literal('musterbook rule'),
  kind: RuleKind,
  id: z.string().min(1).max(80),
  version: z.string(),
  state: z.enum(['offered', 'proposed', 'inForce']),
  writtenBy: z.string(),
  approvedBy: z.string().nullable(),
  approvedOn: z.string().nullable(),
  content: z.looseObject({}),
  checksum: z.string().optional(),
})
type RuleFile = z.infer<typeof RuleFile>

/** A rule as a file to read, to compare and to change outside. */
export function ruleFileText(offer: Offer, named: { writtenBy: string; approvedBy: string | null }): string {
  const { kind, id, edition, state, adoptedOn, content } = offer
  const file = { file: 'musterbook rule' as const, kind, id, version: edition, state, ...named, approvedOn: adoptedOn, content }
  return `${JSON.stringify({ ...file, checksum: checksumOf(file) }, null, 2)}\n`
}

const checksumOf = (file: Omit<RuleFile, 'checksum'>): string => `sha256:${digest(file)}`

interface Read {
  kind: RuleKind
  id: string
  content: Record<string, unknown>
  checksum: RuleFilePreview['checksum']
  /** On which line of the file this part of the content stands; of one that is not there, the nearest around it. */
  lineOf(path: ContentProblem['path']): number
}

/** A file as somebody brings it back, or the line that cannot be read. */
export function readRuleFile(text: string): Read | ReturnType<typeof officeRefusal> {
  const no = (offset: number, why: string) => officeRefusal('ruleFileUnreadable', { line: lineAt(text, offset), why })
  const errors: ParseError[] = []
  const tree = parseTree(text, errors, { disallowComments: true })
  const [error] = errors
  if (error) return no(error.offset, `this is not JSON here (${printParseErrorCode(error.error)})`)
  if (!tree) return no(0, 'the file is empty')
  const twice = keyTwice(tree)
  if (twice) return no(twice.offset, `${String(twice.value)} stands twice in one place`)

  const lineOf = (path: ContentProblem['path']) => lineAt(text, nodeAt(tree, path).offset)
  const parsed = RuleFile.safeParse(JSON.parse(text))
  if (!parsed.success) {
    const [issue] = parsed.error.issues
    const keys = issue?.code === 'unrecognized_keys' ? issue.keys : []
    const path = [...(issue?.path ?? []), ...keys] as string[]
    const why = keys.length > 0 ? `${keys.join(', ')} is not known here` : `${path.join('.') || 'the file'}: ${issue?.message ?? ''}`
    return officeRefusal('ruleFileUnreadable', { line: lineOf(path), why })
  }
  const { checksum, ...rest } = parsed.data
  return {
    kind: rest.kind,
    id: rest.id,
    content: rest.content,
    checksum: checksum === undefined ? 'none' : checksum === checksumOf(rest) ? 'matches' : 'changed',
    lineOf,
  }
}

const lineAt = (text: string, offset: number): number => text.slice(0, offset).split('\n').length

function nodeAt(tree: Node, path: ContentProblem['path']): Node {
  for (let length = path.length; length > 0; length--) {
    const node = findNodeAtLocation(tree, path.slice(0, length))
    if (node) return node
  }
  return tree
}

/** JSON itself would silently take the last of two. */
function keyTwice(node: Node): Node | undefined {
  const keys = node.type === 'object' ? (node.children ?? []).flatMap(({ children }) => children?.[0] ?? []) : []
  const twice = keys.find((key, index) => keys.slice(0, index).some(({ value }) => value === key.value))
  if (twice) return twice
  for (const child of node.children ?? []) {
    const found = keyTwice(child)
    if (found) return found
  }
  return undefined
}
