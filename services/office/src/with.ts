/** A map with one value more, or another one. */
export const having = <K, V>(map: ReadonlyMap<K, V>, key: K, value: V): ReadonlyMap<K, V> => new Map(map).set(key, value)

export function without<K, V>(map: ReadonlyMap<K, V>, key: K): ReadonlyMap<K, V> {
  const rest = new Map(map)
  rest.delete(key)
  return rest
}
