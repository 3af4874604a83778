import { spawnSync } from 'node:child_process'

export const servers = ['one', 'two', 'three'] as const
type Server = (typeof servers)[number]
/** Whoever asks runs where this process runs. */
type Place = Server | 'client'
const places: readonly Place[] = [...servers, 'client']

/** Three servers and whoever asks them, each in a network of its own, with one line between every two. Only inside `inNetworksOfItsOwn`. */
export function makeNetworks(): void {
  ip('link', 'set', 'lo', 'up')
  for (const name of servers) {
    ip('netns', 'add', name)
    ip('-n', name, 'link', 'set', 'lo', 'up')
  }
  for (const [index, one] of places.entries())
    for (const other of places.slice(index + 1)) {
      const there = other === 'client' ? String(process.pid) : other
      ip('-n', one, 'link', 'add', 'name', other, 'type', 'veth', 'peer', 'name', one, 'netns', there)
      for (const [here, to] of [
        [one, other],
        [other, one],
      ] as const) {
        ip(...at(here), 'address', 'add', `${addressOf(here, to)}/24`, 'dev', to)
        ip(...at(here), 'link', 'set', to, 'up')
      }
    }
}

/** The address at which `to` is reached from `from`. */
export function addressOf(to: Place, from: Place): string {
  const [low = 0, high = 0] = [places.indexOf(to), places.indexOf(from)].sort((one, other) => one - other)
  return `10.77.${low * 10 + high}.${places.indexOf(to) === low ? 1 : 2}`
}

/** What is put before a command so that it runs in there. */
export const within = (server: Server): string[] => ['nsenter', `--net=/run/netns/${server}`]

/** Not a packet passes between this server and these; usually, between it and anybody. */
export const cut = (server: Server, from: readonly Place[] = places): void => eachLine(server, from, 'down')

export const heal = (server: Server): void => eachLine(server, places, 'up')

function eachLine(server: Server, to: readonly Place[], state: 'up' | 'down'): void {
  for (const other of to) if (other !== server) ip('-n', server, 'link', 'set', other, state)
}

const at = (place: Place): string[] => (place === 'client' ? [] : ['-n', place])

function ip(...words: string[]): void {
  const { status, stderr, error } = spawnSync('ip', words, { encoding: 'utf8' })
  if (status !== 0) throw new Error(`ip ${words.join(' ')}: ${stderr ?? error}`)
}
