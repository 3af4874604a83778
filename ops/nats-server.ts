/**
 * Finds a nats-server that is new enough to keep a ledger, and on Debian fetches one for tests into `.tools/`, touching nothing else of the
 * system. `npx tsx ops/nats-server.ts` prints where it is.
 */
import { execFileSync, spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { oldestServer, tooOld } from '@musterbook/ledger/jetstream-probe'

const tools = fileURLToPath(new URL('../.tools', import.meta.url))
const fetched = join(tools, 'nats-server', 'usr', 'sbin', 'nats-server')
/** The Debian suite that carries a server new enough; its packages of a static Go program run on any release. */
const suite = 'sid'

interface Places {
  /** The binary that a setting names; it is used or refused, never passed over. */
  readonly named: string | undefined
  readonly fetched: string
  readonly onPath: string
  readonly fetch: (onPath: string | undefined) => string
}

const places = (): Places => ({ named: process.env.MUSTERBOOK_NATS_SERVER, fetched, onPath: 'nats-server', fetch: fetchFromDebian })

/** The path of a usable nats-server. Throws with a sentence that says exactly what to install when there is none. */
export function natsServer({ named, fetched, onPath, fetch }: Places = places()): string {
  if (named !== undefined) return usable(named, 'MUSTERBOOK_NATS_SERVER')
  if (existsSync(fetched) && !tooOld(versionOf(fetched))) return fetched
  const found = versionOf(onPath)
  return found && !tooOld(found) ? onPath : fetch(found)
}

function usable(binary: string, from: string): string {
  const version = versionOf(binary)
  if (!version) throw new Error(`${from} names ${binary}, which does not run as a nats-server`)
  if (tooOld(version)) throw new Error(`${from} names a nats-server ${version}: ${oldestServer} is the oldest that can keep a ledger`)
  return binary
}

function versionOf(binary: string): string | undefined {
  const { stdout } = spawnSync(binary, ['--version'], { encoding: 'utf8' })
  return /v?(\d+\.\d+\.\d+)/.exec(stdout ?? '')?.[1]
}

function fetchFromDebian(onPath: string | undefined): string {
  const advice =
    `Install nats-server ${oldestServer} or newer (the vendor's package or container image) and name the binary in MUSTERBOOK_NATS_SERVER.` +
    (onPath ? ` The one on the PATH is ${onPath}: too old to keep a ledger, and not used.` : '')
  const source = debianSource()
  if (!source) throw new Error(`No usable nats-server, and no Debian sources on this machine to fetch one from. ${advice}`)
  mkdirSync(tools, { recursive: true })
  const folder = mkdtempSync(join(tools, 'nats-fetch-'))
  try {
    const unpacked = downloadInto(folder, source)
    usable(join(unpacked, 'usr', 'sbin', 'nats-server'), 'the Debian archive')
    rmSync(join(tools, 'nats-server'), { recursive: true, force: true })
    renameSync(unpacked, join(tools, 'nats-server'))
    return fetched
  } catch (error) {
    throw new Error(`No usable nats-server, and fetching one failed: ${(error as Error).message}. ${advice}`, { cause: error })
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** Everything apt writes goes into `folder`: lists, cache and the package; the machine's own lists and packages stay as they are. */
function downloadInto(folder: string, source: Source): string {
  for (const part of ['lists/partial', 'cache/archives/partial']) mkdirSync(join(folder, part), { recursive: true })
  writeFileSync(join(folder, 'sources.list'), `deb [signed-by=${source.signedBy}] ${source.uri} ${suite} main\n`)
  const settings = {
    'Dir::Etc::sourcelist': join(folder, 'sources.list'),
    'Dir::Etc::sourceparts': '/dev/null',
    'Dir::State::lists': join(folder, 'lists'),
    'Dir::Cache': join(folder, 'cache'),
    'Acquire::Languages': 'none',
    'APT::Sandbox::User': 'root',
  }
  const options = Object.entries(settings).flatMap(([name, value]) => ['-o', `${name}=${value}`])
  const apt = (...words: string[]) => execFileSync('apt-get', ['-q', ...options, ...words], { cwd: folder, stdio: 'pipe' })
  apt('update')
  apt('download', 'nats-server')
  const deb = readdirSync(folder).find((name) => name.endsWith('.deb'))
  if (!deb) throw new Error('the archive gave no package')
  execFileSync('dpkg-deb', ['-x', join(folder, deb), join(folder, 'unpacked')])
  return join(folder, 'unpacked')
}

interface Source {
  readonly uri: string
  readonly signedBy: string
}

/** The mirror that this machine itself is fed from, so that no host is named here. */
function debianSource(): Source | undefined {
  if (!existsSync('/etc/os-release') || !/^ID=debian$/m.test(readFileSync('/etc/os-release', 'utf8'))) return undefined
  const codename = /^VERSION_CODENAME=(\w+)$/m.exec(readFileSync('/etc/os-release', 'utf8'))?.[1]
  const parts = '/etc/apt/sources.list.d'
  const files = ['/etc/apt/sources.list', ...(existsSync(parts) ? readdirSync(parts).map((name) => join(parts, name)) : [])]
  const signedBy = '/usr/share/keyrings/debian-archive-keyring.gpg'
  for (const text of files.filter((file) => existsSync(file)).map((file) => readFileSync(file, 'utf8'))) {
    const uri =
      text
        .split(/\n\s*\n/)
        .map((stanza) => uriOf(stanza, codename))
        .find((found) => found !== undefined) ?? uriOfLine(text, codename)
    if (uri) return { uri, signedBy }
  }
  return undefined
}

/** A stanza of the newer form of apt sources, if it feeds this very release. */
function uriOf(stanza: string, codename: string | undefined): string | undefined {
  const field = (name: string) => new RegExp(`^${name}:\\s*(.+)$`, 'm').exec(stanza)?.[1]?.trim().split(/\s+/) ?? []
  return codename && field('Suites').includes(codename) && field('Components').includes('main') ? field('URIs')[0] : undefined
}

/** A line of the older form. */
function uriOfLine(text: string, codename: string | undefined): string | undefined {
  return new RegExp(`^deb\\s+(?:\\[[^\\]]*\\]\\s+)?(\\S+)\\s+${codename}\\s+(?:\\S+\\s+)*main\\b`, 'm').exec(text)?.[1]
}

if (process.argv[1] === fileURLToPath(import.meta.url)) console.log(natsServer())
