import type { Difference } from '@musterbook/vocabulary/office'

/** Every field in which two contents differ, named as a reader finds it: `tables › FX-1/run › M20–29 › 60th › value`. */
export function differences(before: unknown, after: unknown): Difference[] {
  return below([], before, after)
}

function below(path: readonly string[], before: unknown, after: unknown): Difference[] {
  if (Array.isArray(before) && Array.isArray(after)) {
    const [stood, stands] = named(before, after)
    return [...ofMaps(path, stood, stands), ...orderOf(path, stood, stands)]
  }
  if (isMap(before) && isMap(after)) return ofMaps(path, new Map(Object.entries(before)), new Map(Object.entries(after)))
  if (JSON.stringify(before) === JSON.stringify(after)) return []
  return [{ path: path.join(' › '), before: said(before), after: said(after) }]
}

type Parts = ReadonlyMap<string, unknown>

const ofMaps = (path: readonly string[], before: Parts, after: Parts): Difference[] =>
  [...new Set([...before.keys(), ...after.keys()])].flatMap((name) => below([...path, name], before.get(name), after.get(name)))

/** The order of a list says something too: of what stood before and still stands. */
function orderOf(path: readonly string[], before: Parts, after: Parts): Difference[] {
  const [stood, stands] = [[...before.keys()].filter((name) => after.has(name)), [...after.keys()].filter((name) => before.has(name))]
  if (stood.join() === stands.join()) return []
  return [{ path: [...path, 'order'].join(' › '), before: stood.join(', '), after: stands.join(', ') }]
}

/** The parts of two lists by what they are called, so that one put in between does not move all that follow; by place where they have no names. */
function named(before: readonly unknown[], after: readonly unknown[]): [Parts, Parts] {
  const haveNames = [before, after].every((list) => {
    const names = list.map(nameOf)
    return names.every((name) => name !== undefined) && new Set(names).size === names.length
  })
  const by = (list: readonly unknown[]) => new Map(list.map((part, index) => [(haveNames && nameOf(part)) || String(index + 1), part]))
  return [by(before), by(after)]
}

function nameOf(part: unknown): string | undefined {
  if (!isMap(part)) return undefined
  const { id, questionId, choiceId, protocolId, population, percentile, sex, ageFrom, ageTo } = part
  const name = id ?? questionId ?? choiceId ?? protocolId ?? population
  if (typeof name === 'string') return name
  if (typeof percentile === 'number') return `${percentile}th`
  if (typeof sex === 'string') return `${sex} ${String(ageFrom)}–${ageTo === null ? '' : String(ageTo)}`
  return undefined
}

const isMap = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null && !Array.isArray(value)

const said = (value: unknown): string | null => (value === undefined ? null : typeof value === 'string' ? value : JSON.stringify(value))
