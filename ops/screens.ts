import { spawn } from 'node:child_process'
import { existsSync, readdirSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const house = fileURLToPath(new URL('..', import.meta.url))
const built = join(house, 'kiosk', 'dist')
/** Written when a build is whole: a broken-off one does not count. */
const mark = join(built, '.built')

/** The folder with the built screens. Builds them first when they are missing or older than what they are made from. */
export async function builtScreens(say: (line: string) => void): Promise<string> {
  if (existsSync(mark) && statSync(mark).mtimeMs >= newestSource()) return built
  say('Building the screens …')
  const begun = Date.now()
  await buildScreens()
  say(`Building the screens … done in ${((Date.now() - begun) / 1000).toFixed(1)} s`)
  return built
}

/** Rejects with what the build said when it fails. */
export async function buildScreens(): Promise<void> {
  const begun = new Date()
  const said: string[] = []
  // Whoever asks: a test that builds them builds what is served.
  const env = { ...process.env, NODE_ENV: 'production' }
  const build = spawn(join(house, 'node_modules', '.bin', 'vite'), ['build', 'kiosk', '--logLevel', 'warn'], { cwd: house, env })
  for (const stream of [build.stdout, build.stderr]) stream.on('data', (chunk: Buffer) => said.push(chunk.toString()))
  const code = await new Promise<number | null>((resolve, reject) => build.once('error', reject).once('close', resolve))
  if (code !== 0) throw new Error(`the screens could not be built:\n${said.join('').trimEnd()}`)
  writeFileSync(mark, '')
  // What changed while it was building is newer than the build.
  utimesSync(mark, begun, begun)
}

/** Screens are made from the kiosk and from the packages that run in a browser. */
function newestSource(): number {
  const roots = ['kiosk', 'packages', 'package-lock.json'].map((name) => join(house, name))
  return Math.max(...roots.map(newestIn))
}

function newestIn(path: string): number {
  const { mtimeMs } = statSync(path)
  if (!statSync(path).isDirectory()) return mtimeMs
  const inside = readdirSync(path, { withFileTypes: true }).filter(
    ({ name }) => name !== 'node_modules' && name !== 'dist' && !name.startsWith('.'),
  )
  return Math.max(0, ...inside.filter(({ name }) => !name.includes('.test.')).map(({ name }) => newestIn(join(path, name))))
}
