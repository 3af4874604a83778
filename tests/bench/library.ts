import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { kilobyte } from './drafts.ts'
import type { Contest } from './measure.ts'

const folder = fileURLToPath(new URL('../../.tools/emmett', import.meta.url))
const packages = ['@event-driven-io/emmett@0.38.5', '@event-driven-io/emmett-sqlite@0.38.5', 'sqlite3@5.1.7']
const pieces = 5

interface Store {
  appendToStream(
    stream: string,
    events: readonly { type: string; data: object }[],
    options: { expectedStreamVersion: bigint },
  ): Promise<unknown>
}

/**
 * The same appends through a general event-sourcing library. It journals to a WAL and leaves SQLite's own default, which in its build is the FULL
 * sync that ours asks for. Never a dependency: put beside the house when it is measured.
 */
export const library: Contest = {
  name: 'library',
  what: 'durable append to the SQLite ledger, one at a time',
  against: 'the same entries appended with Emmett 0.38.5 on SQLite, same journal and sync settings',
  aim: 10,
  better: 'higher',
  unit: 'entries/s',
  turns: 10,
  open: async () => {
    const data = mkdtempSync(join(tmpdir(), 'bench-'))
    const ledger = sqliteLedger({ file: join(data, 'ours.sqlite') })
    const store = await libraryStore(join(data, 'library.sqlite'))
    let version = 0
    let stored = 0
    return {
      ours: async () => {
        for (const end = version + pieces; version < end; version++) await ledger.append('day/1', version, kilobyte(`c${version}`))
        return pieces
      },
      raw: async () => {
        for (const end = stored + pieces; stored < end; stored++) await appended(store, stored)
        return pieces
      },
      close: async () => {
        await ledger.close()
        rmSync(data, { recursive: true })
      },
    }
  },
}

/**
 * The library does not wait for its own first statement on a new connection, and now and then cannot commit for it: told again then, as its users
 * must. What it logs of that on standard output would stand in our own.
 */
async function appended(store: Store, version: number): Promise<void> {
  const events = [{ type: 'entry', data: kilobyte(`c${version}`) }]
  const { log } = console
  console.log = () => {}
  try {
    for (let tries = 1; ; tries++) {
      try {
        await store.appendToStream('day-1', events, { expectedStreamVersion: BigInt(version) })
        return
      } catch (error) {
        if ((error as { code?: string }).code !== 'SQLITE_BUSY' || tries >= 20) throw error
      }
    }
  } finally {
    console.log = log
  }
}

async function libraryStore(fileName: string): Promise<Store> {
  const entry = join(folder, 'node_modules', '@event-driven-io', 'emmett-sqlite', 'dist', 'index.js')
  if (!existsSync(entry)) {
    process.stderr.write('Installing Emmett into .tools/ for the comparison; its SQLite may be compiled, which takes minutes.\n')
    const { status } = spawnSync('npm', ['install', '--prefix', folder, '--no-audit', '--no-fund', ...packages], {
      stdio: ['ignore', 2, 2],
    })
    if (status !== 0) throw new Error(`npm could not install ${packages.join(' ')}: the comparison cannot be measured`)
  }
  const { getSQLiteEventStore } = (await import(pathToFileURL(entry).href)) as { getSQLiteEventStore: (options: object) => Store }
  return getSQLiteEventStore({ fileName })
}
