import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { natsServer } from '../nats-server.ts'
import { inNetworksOfItsOwn } from './own-networks.ts'

/** The oldest Node that runs this house. */
const oldestNode = [20, 19] as const

/** Something that some tests cannot do without: how it is tried, the Debian packages that bring it, and what to tell a person. */
export interface Need {
  name: string
  works: () => boolean
  packages: readonly string[]
  otherwise: string
}

const chromium = process.env.MUSTERBOOK_CHROMIUM ?? '/usr/bin/chromium'

/** The second engine: named by who has it elsewhere. */
export const firefox = process.env.MUSTERBOOK_FIREFOX ?? '/usr/bin/firefox-esr'

const needs: readonly Need[] = [
  {
    name: 'Chromium',
    works: () => existsSync(chromium),
    packages: process.env.MUSTERBOOK_CHROMIUM === undefined ? ['chromium'] : [],
    otherwise: `no Chromium at ${chromium}. On Debian, as root, \`apt-get install chromium\`; elsewhere install it and name its program in MUSTERBOOK_CHROMIUM.`,
  },
  {
    name: 'Firefox ESR',
    works: () => existsSync(firefox),
    packages: process.env.MUSTERBOOK_FIREFOX === undefined ? ['firefox-esr'] : [],
    otherwise: `a bundle is opened in a second engine, and there is no Firefox at ${firefox}. On Debian, as root, \`apt-get install firefox-esr\`; elsewhere install it and name its program in MUSTERBOOK_FIREFOX.`,
  },
  {
    name: 'A C compiler',
    works: () => runs(['cc', '-xc', '-shared', '-fPIC', '-o', '/dev/null', '-', '-ldl'], '#include <stdio.h>\nint tried;\n'),
    packages: ['gcc', 'libc6-dev'],
    otherwise: 'the power-loss test records writes with a small C library. `apt-get install gcc libc6-dev`, or any C compiler called cc.',
  },
  {
    name: 'A mount namespace',
    works: () => runs(['unshare', ...(process.getuid?.() === 0 ? ['-m'] : ['-r', '-m']), 'mount', '-t', 'tmpfs', 'tmpfs', '/mnt']),
    packages: ['util-linux', 'mount'],
    otherwise:
      'the full-disk test mounts a small disk that only its own process sees. Run as root, or allow user namespaces, with unshare.',
  },
  {
    name: 'Networks of their own',
    works: () => runs(inNetworksOfItsOwn(['sh', '-c', 'ip netns add tried && ip -n tried link add name a type veth peer name b'])),
    packages: ['iproute2', 'util-linux', 'mount'],
    otherwise:
      'the tests of a divided cluster put each server into a network that only they see. Run as root, or allow user namespaces, with unshare and ip. `apt-get install iproute2 util-linux`.',
  },
  {
    name: 'OpenSSL',
    works: () => runs(['openssl', 'version']),
    packages: ['openssl'],
    otherwise: 'the tests of the encrypted cluster make their certificates with it. `apt-get install openssl`.',
  },
  {
    name: 'systemd-analyze',
    works: () => runs(['systemd-analyze', '--version']),
    packages: ['systemd'],
    otherwise: 'the shipped units are checked by it. `apt-get install systemd`.',
  },
]

/** Sees to what the tests need. The answer is what a person must install; nothing when all is there. */
export function missing(say: (line: string) => void): string[] {
  return [...nodeTooOld(), ...withoutServer(natsServer), ...needs.flatMap((need) => unmet(need, say, installWithApt))]
}

/** Tries it, installs it where that may be done unasked, and tries again. */
export function unmet(need: Need, say: (line: string) => void, install: (packages: readonly string[]) => void): string[] {
  if (need.works()) return []
  if (need.packages.length > 0) {
    say(`${need.name} is missing; installing ${need.packages.join(' ')} where this machine allows it.`)
    install(need.packages)
    if (need.works()) return []
  }
  return [`${need.name}: ${need.otherwise}`]
}

/** The finder says itself what to install; it fetches a server into .tools/ where it can. */
export function withoutServer(find: () => string): string[] {
  try {
    find()
    return []
  } catch (error) {
    return [`nats-server: ${(error as Error).message}`]
  }
}

function nodeTooOld(): string[] {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number)
  if (major > oldestNode[0] || (major === oldestNode[0] && minor >= oldestNode[1])) return []
  return [`Node ${oldestNode.join('.')} or newer; this is ${process.versions.node}.`]
}

/** Root on Debian only: anywhere else a person decides what is installed. */
function installWithApt(packages: readonly string[]): void {
  if (process.getuid?.() !== 0 || !existsSync('/etc/debian_version')) return
  const apt = (...args: string[]) =>
    spawnSync('apt-get', args, { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } })
  apt('update', '-q')
  apt('install', '-y', '-q', '--no-install-recommends', ...packages)
}

function runs([program = '', ...words]: readonly string[], input = ''): boolean {
  return spawnSync(program, words, { input, stdio: ['pipe', 'ignore', 'ignore'] }).status === 0
}
