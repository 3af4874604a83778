import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import type { CommandId, DeviceId, PersonId } from '@musterbook/vocabulary/ids'
import { type Office, type Said, SetUp, type Told } from '@musterbook/vocabulary/office'
import type { Role } from '@musterbook/vocabulary/people'
import { openOffice } from './office.ts'

/** 11 May 2027, 07:00 UTC. */
export const morning = Date.UTC(2027, 4, 11, 7)

export interface Desked {
  office: Office
  ledger: Ledger
  dataFolder: string
  keyFile: string
  clock: { now: number }
  /** Closes the office and opens it again over the same folder and ledger, as after a restart. */
  reopen(): Promise<Office>
  end(): Promise<void>
}

/** An office over a ledger in memory and two stores in a folder of their own. PINs are hashed quickly. */
export async function desked(ledger: Ledger = memoryLedger()): Promise<Desked> {
  const folder = mkdtempSync(join(tmpdir(), 'office-'))
  const dataFolder = join(folder, 'data')
  const keyFile = join(folder, 'office.key')
  const clock = { now: morning }
  const open = () => openOffice({ ledger, dataFolder, keyFile, now: () => clock.now, pinCost: 2 ** 10 })
  const desk: Desked = {
    office: await open(),
    ledger,
    dataFolder,
    keyFile,
    clock,
    reopen: async () => {
      await desk.office.close()
      desk.office = await open()
      return desk.office
    },
    end: async () => {
      await desk.office.close()
      rmSync(folder, { recursive: true })
    },
  }
  return desk
}

let commands = 0
/** Told by somebody, on some device, as a new command unless one is named. */
export function told(
  personId: string | null,
  roles: readonly Role[],
  more: { commandId?: string; deviceId?: string; second?: string } = {},
): Told {
  commands += 1
  return {
    by: {
      personId: personId as PersonId | null,
      roles,
      deviceId: (more.deviceId ?? 'device-1') as DeviceId,
      countersigned: more.second ? { personId: more.second as PersonId, roles: ['supervisor'] } : null,
    },
    envelope: {
      commandId: (more.commandId ?? `command-${commands}`) as CommandId,
      deviceSequence: commands,
      occurredAt: morning,
      steadyMs: null,
      offsetMs: 0,
      bandMs: 50,
      seenVersion: 0,
      contactAgeMs: 0,
      decidedOnDevice: false,
    },
  }
}

export function granted<T extends object>(said: Said<T>): T {
  if ('refused' in said) throw new Error(`refused: ${said.refused.rule}: ${said.refused.says}`)
  return said as T
}
export const ruleOf = (said: object): string | undefined =>
  'refused' in said ? (said as { refused: { rule: string } }).refused.rule : undefined

/** A site with one coordinator, and nothing else. */
export async function settled(desk: Desked) {
  const code = await desk.office.newSetUpCode()
  const body = SetUp.parse({
    code,
    site: { siteId: 'hill', name: 'Hill (invented)', timeZone: 'Europe/Oslo' },
    coordinator: { name: 'Ines Varga', pin: '270511' },
  })
  const { personId, deviceId, deviceToken } = granted(await desk.office.setUp(body, told(null, [])))
  return { ines: personId, deviceId, deviceToken, asInes: () => told(personId, ['coordinator']) }
}
