import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'

/** The oldest Node that runs this house. */
const oldestNode = [20, 19] as const

/** Sees to what the tests need. The answer is what a person must install; nothing when all is there. */
export function missing(say: (line: string) => void): string[] {
  return [...nodeTooOld(), ...noChromium(say)]
}

function nodeTooOld(): string[] {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
  if (major > oldestNode[0] || (major === oldestNode[0] && minor >= oldestNode[1])) return []
  return [`Node ${oldestNode.join('.')} or newer; this is ${process.versions.node}.`]
}

function noChromium(say: (line: string) => void): string[] {
  const named = process.env.MUSTERBOOK_CHROMIUM
  const path = named ?? '/usr/bin/chromium'
  if (existsSync(path)) return []
  if (named !== undefined) return [`Chromium: MUSTERBOOK_CHROMIUM names ${named}, where there is none.`]

  if (process.getuid?.() === 0 && existsSync('/etc/debian_version')) {
    say('Chromium is missing; installing it with apt-get.')
    const apt = (...args: string[]) =>
      spawnSync('apt-get', args, { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } })
    apt('update', '-q')
    apt('install', '-y', '-q', '--no-install-recommends', 'chromium')
    if (existsSync(path)) return []
  }
  return ['Chromium: on Debian, as root, `apt-get install chromium`; elsewhere install it and name its program in MUSTERBOOK_CHROMIUM.']
}
