import iconv from 'iconv-lite'

export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252'

/**
 * The text of a file as an office saved it. A byte order mark says which encoding it is; without one, what is valid UTF-8 is UTF-8, and the
 * rest is Windows-1252, in which older spreadsheets save CSV in Western Europe and the Americas.
 */
export function decode(bytes: Uint8Array, declared?: Encoding): { text: string; encoding: Encoding } {
  const encoding = declared ?? marked(bytes) ?? (isUtf8(bytes) ? 'utf-8' : 'windows-1252')
  const text = iconv.decode(Buffer.from(bytes), encoding === 'windows-1252' ? 'win1252' : encoding, { stripBOM: true })
  // One kind of line end, so that a line of the file is a line here.
  return { text: text.replace(/\r\n?/g, '\n'), encoding }
}

function marked(bytes: Uint8Array): Encoding | undefined {
  const [first, second, third] = bytes
  if (first === 0xef && second === 0xbb && third === 0xbf) return 'utf-8'
  if (first === 0xff && second === 0xfe) return 'utf-16le'
  if (first === 0xfe && second === 0xff) return 'utf-16be'
  return undefined
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    return true
  } catch {
    return false
  }
}
