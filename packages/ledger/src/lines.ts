/** Lines of a text in UTF-8, without their line feeds. Throws with a sentence on what is not UTF-8, and on a last line that does not end. */
export async function* linesOf(chunks: AsyncIterable<Uint8Array>): AsyncIterable<string> {
  const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })
  let rest = ''
  let number = 1
  const decode = (bytes?: Uint8Array) => {
    try {
      return decoder.decode(bytes, { stream: bytes !== undefined })
    } catch (error) {
      throw new Error(`line ${number} or a later one near it is not UTF-8`, { cause: error })
    }
  }
  for await (const chunk of chunks) {
    const lines = (rest + decode(chunk)).split('\n')
    rest = lines.pop()!
    for (const line of lines) {
      yield line
      number++
    }
  }
  rest += decode()
  if (rest !== '') throw new Error(`line ${number} does not end: the tail was cut off`)
}
