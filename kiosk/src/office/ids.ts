/** Readable ids from names, each once: 'Medical room' → 'medical-room'. A name in another script gets a number. */
export function namedIds(names: readonly string[], taken: readonly string[] = []): string[] {
  const used = new Set(taken)
  return names.map((name, at) => {
    const plain =
      name
        .normalize('NFD')
        .replaceAll(/\p{M}/gu, '')
        .toLowerCase()
        .replaceAll(/[^a-z0-9]+/g, '-')
        .replaceAll(/^-+|-+$/g, '')
        .slice(0, 60) || `place-${at + 1}`
    let id = plain
    for (let n = 2; used.has(id); n++) id = `${plain}-${n}`
    used.add(id)
    return id
  })
}
