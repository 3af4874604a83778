import { digestOfBytes } from '@musterbook/evidence/canonical'
import { signatureHolds } from '@musterbook/evidence/seal'
import { checkBundle, type BundleChecked } from './bundle.ts'

/** Where the evidence of a bundle stands in its page. It holds no '<' of its own. */
export const evidenceOpens = '<script type="application/json" id="evidence">'

const lastLine = /<!-- musterbook file 1 ([0-9a-f]{64}) ([0-9a-f]{128}) -->\n$/
const lastLineBytes = '<!-- musterbook file 1  -->\n'.length + 64 + 1 + 128

/** What the site signs of a file: all its bytes but the line that carries the signature. */
export const fileStatement = (bytes: Uint8Array): { digest: string } => ({ digest: digestOfBytes(bytes) })

/** The last line of a bundle, over everything above it. */
export const lastLineOf = ({ digest }: { digest: string }, signature: string): string =>
  `<!-- musterbook file 1 ${digest} ${signature} -->\n`

/** Every byte of a bundle: that of its evidence as its page checks it, and that of its page, which cannot check itself. */
export function checkBundleFile(bytes: Uint8Array): BundleChecked {
  const page = bytes.subarray(0, Math.max(0, bytes.length - lastLineBytes))
  const text = new TextDecoder().decode(page)
  const opens = text.indexOf(evidenceOpens) + evidenceOpens.length
  const checked = checkBundle(text.slice(opens, text.indexOf('<', opens)))
  const said = lastLine.exec(new TextDecoder('latin1').decode(bytes.subarray(page.length)))
  const statement = fileStatement(page)
  const holds =
    said?.[1] === statement.digest &&
    signatureHolds({ publicKey: checked.evidence?.proof.seal.publicKey ?? '', signature: said[2]! }, 'musterbook file 1', statement)
  return holds ? checked : { ...checked, faults: ['the file was changed after it was written', ...checked.faults] }
}

/** Does this begin like a page, and not like an export? */
export const looksLikeBundle = (bytes: Uint8Array): boolean =>
  new TextDecoder('latin1').decode(bytes.subarray(0, 15)).toLowerCase() === '<!doctype html>'
