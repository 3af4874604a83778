import { spawnSync } from 'node:child_process'
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { fileFaults } from '@musterbook/ledger/sqlite-check'
import { verify } from '@musterbook/ledger/verify'
import { everything } from './clients.ts'
import { type Findings, newFindings } from './findings.ts'
import { historyFaults, lostAndDoubled, type Told } from './history.ts'
import { type Happening, parseRecord } from './power-loss-record.ts'

/** What a disk has for certain, and what it was asked to write since its last sync, in order. */
interface Disk {
  kept: Buffer
  waiting: Happening[]
}

/**
 * Records every write and sync of a real run, then lets the power go at `points` random moments of it: what was synced is there; of what was not,
 * any write may be there, or not, or only its first sectors of 512 bytes. Each such disk is opened as the next start would open it, and everything that had been acknowledged by
 * then must stand there. With `believeSyncs` false, syncs count for nothing: the control that shows that a loss would be seen.
 */
export async function powerLoss(
  folder: string,
  points: number,
  random: () => number,
  progress: (round: number) => void,
  believeSyncs = true,
): Promise<Findings> {
  const happenings = record(folder)
  const moments = Array.from({ length: points }, () => Math.floor(random() * happenings.length)).sort((one, other) => one - other)
  const disks: [Disk, Disk] = [emptyDisk(), emptyDisk()]
  const heard = new Map<string, Told>()
  const findings = newFindings()
  let at = 0
  for (const [index, moment] of moments.entries()) {
    for (; at < moment; at++) happen(happenings[at]!, disks, heard, believeSyncs)
    const told = [...heard.values()]
    const { faults, lost, doubled } = await faultsAfterLoss(folder, disks, told, random)
    findings.faults.push(...faults.map((fault) => `power lost at ${moment} of ${happenings.length}: ${fault}`))
    findings.lost += lost
    findings.doubled += doubled
    findings.acknowledged += told.filter((each) => each.acknowledged).length
    findings.unknown += told.filter((each) => !each.acknowledged).length
    findings.asked += told.length
    findings.rounds++
    progress(index + 1)
  }
  return findings
}

function record(folder: string): Happening[] {
  const here = (name: string) => fileURLToPath(new URL(name, import.meta.url))
  const library = join(folder, 'recorder.so')
  const compiled = spawnSync('cc', ['-shared', '-fPIC', '-O1', '-o', library, here('./recorder.c'), '-ldl'], { encoding: 'utf8' })
  if (compiled.status !== 0)
    throw new Error(`the power-loss run needs a C compiler (Debian: apt-get install gcc libc6-dev): ${compiled.stderr}`)
  const run = join(folder, 'power')
  rmSync(run, { recursive: true, force: true })
  mkdirSync(run)
  const file = join(run, 'record')
  const child = spawnSync(process.execPath, ['--import', 'tsx', here('./power-loss-child.ts'), run], {
    encoding: 'utf8',
    env: { ...process.env, LD_PRELOAD: library, RECORD: file },
  })
  if (child.status !== 0) throw new Error(child.stderr)
  const happenings = parseRecord(readFileSync(file))
  if (!happenings.some(({ what }) => what === 'sync')) throw new Error('no sync was recorded: the recorder does not see this SQLite')
  return happenings
}

function emptyDisk(): Disk {
  return { kept: Buffer.alloc(0), waiting: [] }
}

function happen(happening: Happening, disks: readonly [Disk, Disk], heard: Map<string, Told>, believeSyncs: boolean): void {
  if (happening.what === 'told') {
    heard.set(happening.told.commandId, happening.told)
    return
  }
  const disk = disks[happening.file]
  if (happening.what !== 'sync') {
    disk.waiting.push(happening)
  } else if (believeSyncs) {
    disk.kept = disk.waiting.reduce(apply, disk.kept)
    disk.waiting = []
  }
}

async function faultsAfterLoss(
  folder: string,
  disks: readonly [Disk, Disk],
  told: readonly Told[],
  random: () => number,
): Promise<Pick<Findings, 'faults' | 'lost' | 'doubled'>> {
  const run = join(folder, 'after')
  rmSync(run, { recursive: true, force: true })
  mkdirSync(run)
  const file = join(run, 'power.sqlite')
  writeFileSync(file, partly(disks[0], random))
  writeFileSync(`${file}-wal`, partly(disks[1], random))
  try {
    const ledger = sqliteLedger({ file })
    const streams = await everything(ledger)
    const faults = [...fileFaults(file), ...(await verify(ledger)).faults, ...historyFaults(told, streams)]
    await ledger.close()
    return { faults, ...lostAndDoubled(told, streams) }
  } catch (error) {
    return { faults: [`it does not open: ${(error as Error).message}`], ...lostAndDoubled(told, new Map()) }
  }
}

/** The disk with some of what was waiting: a write, or only its first sectors, or nothing of it; in any mixture, as a disk may choose. */
function partly({ kept, waiting }: Disk, random: () => number): Buffer {
  const chance = random()
  return waiting.reduce((bytes, happening) => (random() < chance ? apply(bytes, torn(happening, random)) : bytes), kept)
}

function torn(happening: Happening, random: () => number): Happening {
  if (happening.what !== 'write' || random() < 0.7) return happening
  const sectors = Math.floor(random() * (happening.bytes.length / 512))
  return { ...happening, bytes: happening.bytes.subarray(0, sectors * 512) }
}

function apply(bytes: Buffer, happening: Happening): Buffer {
  if (happening.what === 'cut') {
    return happening.offset <= bytes.length
      ? Buffer.from(bytes.subarray(0, happening.offset))
      : Buffer.concat([bytes, Buffer.alloc(happening.offset - bytes.length)])
  }
  if (happening.what !== 'write') return bytes
  const end = happening.offset + happening.bytes.length
  const grown = end > bytes.length ? Buffer.concat([bytes, Buffer.alloc(end - bytes.length)]) : Buffer.from(bytes)
  happening.bytes.copy(grown, happening.offset)
  return grown
}
