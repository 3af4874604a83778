import { spawn, type ChildProcess } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { afterAll, expect, test } from 'vitest'
import { sqliteReader } from '@musterbook/ledger/sqlite-reader'
import { proofFaults, type StudentProof } from '@musterbook/replay/leaves'
import { driveDay } from '../../ops/demo/day.ts'
import { Floor, type AcademyNotes } from '../../ops/demo/floor.ts'
import { paceOf } from '../../ops/demo/pace.ts'
import { DeviceClient } from '../../ops/device-client.ts'

const house = fileURLToPath(new URL('../../', import.meta.url))
const folder = mkdtempSync(join(tmpdir(), 'musterbook-day-'))
const data = join(folder, 'data')
const speed = 600
let server: ChildProcess | undefined
afterAll(() => {
  server?.kill('SIGKILL')
  rmSync(folder, { recursive: true, force: true })
})

test(
  'a whole day at full speed ends with forty records and a seal, and a server killed in the middle loses and doubles nothing',
  { timeout: 420_000 },
  async () => {
    const port = await freePort()
    const { address, notes } = await startServer(port)
    const heard = await new DeviceClient(address, 'Clock', () => 0).get('/api/clock')
    const pace = paceOf(heard.body as { now: number; speed: number })
    const floor = new Floor(notes, pace)
    await floor.takeUp(address)

    const said: string[] = []
    let day: Promise<void> | undefined = driveDay(floor, (line) => said.push(line))
    day.catch(() => undefined)
    while (floor.told < 700) await new Promise((resolve) => setTimeout(resolve, 50))
    server?.kill('SIGKILL')
    await startServer(port, pace.now())
    await day
    day = undefined

    expect(said.filter((line) => line.includes('hold'))).not.toHaveLength(0)
    expect(said.at(-1)).toContain('the day is sealed')
    const records = await Promise.all(
      notes.students.map(({ studentId }) => floor.view<{ stations: { result: { state: string } }[] }>('Office desk', 'record', studentId)),
    )
    expect(records.filter((record) => record.stations.some(({ result }) => result.state === 'final'))).toHaveLength(40)

    const { fingerprint } = (await floor.client('Office desk').get(`/api/days/${notes.dayId}/seal`)).body as { fingerprint: string }
    const [student] = notes.students
    const proof = (await floor.client('Office desk').get(`/api/days/${notes.dayId}/proofs/${student!.studentId}`))
      .body as unknown as StudentProof
    expect(proofFaults(proof, fingerprint)).toEqual([])
    expect(notes.students.filter(({ studentId }) => JSON.stringify(proof).includes(studentId))).toEqual([student])

    server?.kill('SIGTERM')
    if (server) await once(server, 'exit')
    const entries = await entriesOf(notes.dayId)
    const versions = new Map<string, number[]>()
    for (const { version, meta } of entries) versions.set(meta.commandId, [...(versions.get(meta.commandId) ?? []), version])
    expect(floor.acknowledged.length).toBeGreaterThan(1000)
    for (const { commandId, version } of floor.acknowledged) expect(versions.get(commandId), commandId).toEqual([version])

    expect(await verify()).toMatch(/fit/)
  },
)

async function startServer(port: number, at?: number): Promise<{ address: string; notes: AcademyNotes }> {
  const args = [
    '--port',
    String(port),
    '--data',
    data,
    '--key',
    join(folder, 'keys', 'medical.key'),
    '--speed',
    String(speed),
    '--bare',
    ...(at === undefined ? [] : ['--at', String(at)]),
  ]
  server = spawn(process.execPath, ['--import', 'tsx', join(house, 'ops', 'demo-house.ts'), ...args], {
    cwd: house,
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const [line] = (await once(createInterface({ input: server.stdout! }), 'line')) as [string]
  return JSON.parse(line) as { address: string; notes: AcademyNotes }
}

async function entriesOf(dayId: string) {
  const reader = sqliteReader({ file: join(data, 'ledger.sqlite') })
  const entries = []
  for await (const entry of reader.read(`day/${dayId}`, 0)) entries.push(entry)
  await reader.close()
  return entries
}

async function verify(): Promise<string> {
  const command = spawn(process.execPath, ['--import', 'tsx', join(house, 'ops', 'ledger.ts'), 'verify', '--data', data], { cwd: house })
  let said = ''
  command.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()))
  const [code] = (await once(command, 'exit')) as [number]
  expect(code).toBe(0)
  return said
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as { port: number }
      probe.close(() => resolve(port))
    })
  })
}
