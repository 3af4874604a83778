import { spawn, type ChildProcess } from 'node:child_process'
import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { parseArgs } from 'node:util'
import { driveDay } from './demo/day.ts'
import { Floor, type AcademyNotes } from './demo/floor.ts'
import { paceOf } from './demo/pace.ts'
import { DeviceClient } from './device-client.ts'

const usage = `npm run demo -- [options]
  --speed S     how many times as fast the site's clock runs (60)
  --port N      where the screens are (4180)
  --data DIR    an empty folder for the demonstration's own data (a new temporary one)
  --exit        ends by itself when the day is sealed`

const { values } = parseArgs({
  options: {
    speed: { type: 'string', default: '60' },
    port: { type: 'string', default: '4180' },
    data: { type: 'string' },
    exit: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
})
if (values.help) console.log(usage)
else await demonstrate()

async function demonstrate(): Promise<void> {
  const data = values.data ?? join(mkdtempSync(join(tmpdir(), 'musterbook-demo-')), 'data')
  console.log('Setting up the invented Skarnvale Mountain Rescue Academy …')
  const { server, address, notes } = await startServer(data, ['--speed', values.speed])
  const floor = new Floor(notes, paceOf(await clockOf(address)))
  await floor.takeUp(address)
  introduce(address, notes)
  await driveDay(floor, (line) => console.log(line))
  const records = await countRecords(floor)
  console.log(
    `${records} records, one sealed day, ${floor.told} acts told, ${floor.refused.length} of them refused with their reason kept.`,
  )
  console.log(`Check the record: npm run -s ledger -- verify --data ${data}`)
  await stopServer(server)
  if (!values.exit) await stayOpen(data, floor)
}

/** Whoever looks round afterwards has time: at a day's speed a code, a PIN and a sign-on are over within seconds. */
async function stayOpen(data: string, floor: Floor): Promise<void> {
  const { address } = await startServer(data, ['--speed', '1', '--at', String(Math.ceil(floor.pace.now()))])
  console.log(
    `The screens stay up, at the pace of an ordinary clock: ${address}
A new device: ${address}/replay?code=${await floor.invite('Visitor after the day')} (also /supervisor, /records, /office)
End with Ctrl-C.`,
  )
}

async function clockOf(address: string) {
  const heard = await new DeviceClient(address, 'Clock', () => 0).get('/api/clock')
  return heard.body as { now: number; speed: number }
}

async function startServer(
  data: string,
  clock: readonly string[],
): Promise<{ server: ChildProcess; address: string; notes: AcademyNotes }> {
  const here = new URL('.', import.meta.url).pathname
  const args = ['--port', values.port, '--data', data, '--key', join(data, '..', 'keys', 'medical.key'), ...clock]
  const server = spawn(process.execPath, ['--import', 'tsx', join(here, 'demo-house.ts'), ...args], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  process.once('exit', () => server.kill())
  // A signal ends the server too, not the driver alone.
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => process.exit(0))
  const lines = createInterface({ input: server.stdout! })
  const line = await new Promise<string>((resolve, reject) => {
    lines.once('line', resolve)
    server.once('exit', (code) => reject(new Error(`the server ended with ${code}`)))
  })
  server.removeAllListeners('exit')
  server.once('exit', (code) => {
    if (code !== 0 && code !== null) process.exit(code)
  })
  return { server, ...(JSON.parse(line) as { address: string; notes: AcademyNotes }) }
}

function introduce(address: string, notes: AcademyNotes): void {
  const rows = Object.values(notes.staff).map(({ name, pin, roles }) => `  ${name.padEnd(18)} PIN ${pin}   ${roles.join(', ')}`)
  console.log(
    `The academy's screens: ${address}\nTake over any role at any moment (invented people, PINs for the demonstration alone):\n${rows.join('\n')}`,
  )
}

async function countRecords(floor: Floor): Promise<number> {
  let count = 0
  for (const { studentId } of floor.notes.students) {
    const record = await floor.view<{ stations: { result: { state: string } }[] } | undefined>('Office desk', 'record', studentId)
    if (record?.stations.some((station) => station.result.state !== 'none')) count += 1
  }
  return count
}

function stopServer(server: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    server.removeAllListeners('exit')
    server.once('exit', () => resolve())
    server.kill('SIGTERM')
  })
}
