import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { fileFaults } from '@musterbook/ledger/sqlite-check'
import { checkedEntries } from '@musterbook/ledger/import'
import { jetstreamLedger } from '@musterbook/ledger/jetstream'
import { keptHead, keptHeadText, type KeptHead, parseKeptHead } from '@musterbook/ledger/kept-head'
import type { Ledger, LedgerReader } from '@musterbook/ledger/ledger'
import { linesOf } from '@musterbook/ledger/lines'
import { sqliteReader } from '@musterbook/ledger/sqlite-reader'
import { verify } from '@musterbook/ledger/verify'
import { checkBundleFile, looksLikeBundle } from '@musterbook/replay/bundle-file'
import { proofFaults, type StudentProof } from '@musterbook/replay/leaves'
import { backUp, bytesOf, exportTo, importFrom, importInto, restoreFrom } from './ledger-files.ts'

export interface Say {
  readonly out: (line: string) => void
  readonly trouble: (line: string) => void
}

const usage = `How to use it (DIR is the data folder of the server, by default .data):
  ledger verify  --data DIR [--head FILE]    walk every chain; with a kept head, find a tail that was cut or written anew
  ledger verify  --from FILE [--head FILE]   the same for an export, without any ledger
  ledger verify  FILE [--fingerprint HEX]    every byte of a student's bundle, with the key of the printed day sheet where it is named; FILE may be an export too
  ledger head    --data DIR                  print where every stream stands: keep it outside this machine
  ledger export  --data DIR --out FILE       write everything as CloudEvents, one a line, and the heads
  ledger import  --data DIR --from FILE      fill an empty data folder from an export
  ledger backup  --data DIR --out FILE       copy the ledger while the server runs, and verify the copy
  ledger proof   --from FILE --fingerprint HEX   check one student's proof against the fingerprint on the printed day sheet, without any ledger
  ledger restore --data DIR --from FILE [--until TIME]   fill an empty data folder from a backup, up to a moment if one is named

verify, head, export and import take the ledger of a NATS cluster instead of DIR:
  --nats HOST:PORT,… --monitors http://HOST:8222,… [--replicas 1|3|5]
  user and password are read from MUSTERBOOK_NATS_USER and MUSTERBOOK_NATS_PASSWORD`

/** Runs one command line. The answer is the exit code: 0 when all is well, 1 on trouble with the record, 2 when the command itself is wrong. */
export async function ledgerCommand(words: readonly string[], say: Say): Promise<number> {
  const asked = parsed(words)
  if (!asked) {
    say.trouble(usage)
    return 2
  }
  try {
    return (await commands[asked.command](asked.options, say)) ? 0 : 1
  } catch (error) {
    say.trouble((error as Error).message)
    return 1
  }
}

interface Options {
  readonly data: string
  readonly head?: string | undefined
  readonly out?: string | undefined
  readonly from?: string | undefined
  readonly until?: string | undefined
  readonly fingerprint?: string | undefined
  readonly nats?: string | undefined
  readonly monitors?: string | undefined
  readonly replicas: string
}

/** Says what of a proof does not hold; a file that is no proof is said to be none. */
function proofHolds({ from, fingerprint }: Options, say: Say): boolean {
  if (!from || !fingerprint)
    throw new Error('a proof is checked with --from FILE and the --fingerprint that stands on the printed day sheet')
  const proof = JSON.parse(readFileSync(from, 'utf8')) as StudentProof
  if (proof.form !== 'musterbook proof 1') throw new Error(`${from} is no proof of Musterbook`)
  const faults = proofFaults(proof, fingerprint)
  for (const fault of faults) say.trouble(fault)
  if (faults.length === 0)
    say.out(`The record of ${proof.record.value.studentId} and its ${proof.events.length} events are those that were sealed.`)
  return faults.length === 0
}

const commands = {
  proof: async (options: Options, say: Say) => proofHolds(options, say),
  verify: async (options: Options, say: Say) =>
    !options.from
      ? verifyData(options, say)
      : isBundle(options.from)
        ? verifyBundle(options.from, options, say)
        : verifyExport(options.from, options, say),
  head: async (options: Options, say: Say) => {
    const reader = await readerOf(options)
    say.out(keptHeadText(keptHead(await reader.streams(''))))
    await reader.close()
    return true
  },
  export: async (options: Options, say: Say) => {
    const kept = await exportTo(named(options.out, '--out'), await readerOf(options), progressOf(say, 'written'))
    say.out(`Exported. Head ${kept.digest}`)
    return true
  },
  import: async (options: Options, say: Say) => {
    const from = named(options.from, '--from')
    const progress = progressOf(say, 'read')
    const kept = options.nats
      ? await importInto(await clusterOf(options), from, progress)
      : await importFrom(from, fileIn(options.data), progress)
    say.out(`Imported. Head ${kept.digest}`)
    return true
  },
  backup: async (options: Options, say: Say) => {
    const kept = await backUp(existing(options.data), named(options.out, '--out'), progressOf(say, 'verified'))
    say.out(`Backed up and verified. Head ${kept.digest}`)
    return true
  },
  restore: async (options: Options, say: Say) => {
    const until = options.until === undefined ? undefined : moment(options.until)
    const kept = await restoreFrom(named(options.from, '--from'), fileIn(options.data), until, progressOf(say, 'restored'))
    say.out(`Restored and verified. Head ${kept.digest}`)
    return true
  },
}

async function verifyData(options: Options, say: Say): Promise<boolean> {
  const structure = options.nats ? [] : fileFaults(existing(options.data))
  const reader = await readerOf(options)
  const found = await verify(reader, keptHeadIn(options.head), progressOf(say, 'walked'))
  await reader.close()
  const faults = [...found.faults, ...structure]
  for (const fault of faults) say.trouble(fault)
  if (faults.length === 0) say.out(`${found.entries} entries in ${found.heads.length} streams fit. Head ${keptHead(found.heads).digest}`)
  return faults.length === 0
}

function isBundle(from: string): boolean {
  return looksLikeBundle(readFileSync(from))
}

function verifyBundle(from: string, { fingerprint: expected }: Options, say: Say): boolean {
  const { faults, evidence, fingerprint } = checkBundleFile(readFileSync(from))
  if (expected && expected.toLowerCase() !== fingerprint) faults.unshift('the file was signed with another key than the one expected')
  for (const fault of faults) say.trouble(fault)
  if (faults.length === 0)
    say.out(
      `Every byte of the bundle of ${evidence?.name} is as it was written. Compare the key with the printed day sheet: ${fingerprint}`,
    )
  return faults.length === 0
}

async function verifyExport(from: string, options: Options, say: Say): Promise<boolean> {
  const kept = keptHeadIn(options.head)
  const entries = checkedEntries(linesOf(bytesOf(from)))
  const hashes = new Map<string, string>()
  let next = await entries.next()
  let count = 0
  for (; !next.done; next = await entries.next(), count++) hashes.set(`${next.value.version} of ${next.value.stream}`, next.value.hash)
  const missing = kept?.heads.find((head) => hashes.get(`${head.version} of ${head.stream}`) !== head.hash)
  if (missing) {
    say.trouble(`the kept head names entry ${missing.version} of ${missing.stream}, which this export does not hold as it was`)
    return false
  }
  say.out(`${count} entries in ${next.value.heads.length} streams fit. Head ${next.value.digest}`)
  return true
}

function parsed(words: readonly string[]): { command: keyof typeof commands; options: Options } | undefined {
  try {
    const text = { type: 'string' } as const
    const { values, positionals } = parseArgs({
      args: [...words],
      allowPositionals: true,
      options: {
        data: { ...text, default: '.data' },
        head: text,
        out: text,
        from: text,
        until: text,
        fingerprint: text,
        nats: text,
        monitors: text,
        replicas: { ...text, default: '3' },
      },
    })
    const [command, file, ...others] = positionals
    if (others.length > 0 || !command || !Object.hasOwn(commands, command)) return undefined
    if (file !== undefined && (command !== 'verify' || values.from !== undefined)) return undefined
    return { command: command as keyof typeof commands, options: { ...values, ...(file !== undefined && { from: file }) } }
  } catch {
    return undefined
  }
}

async function readerOf(options: Options): Promise<LedgerReader> {
  return options.nats ? clusterOf(options) : sqliteReader({ file: existing(options.data) })
}

async function clusterOf({ nats, monitors, replicas }: Options): Promise<Ledger> {
  const count = ([1, 3, 5] as const).find((allowed) => String(allowed) === replicas)
  if (count === undefined) throw new Error(`--replicas is 1, 3 or 5, not "${replicas}"`)
  const { MUSTERBOOK_NATS_USER: user, MUSTERBOOK_NATS_PASSWORD: pass } = process.env
  const sign = user === undefined ? {} : { user, pass: pass ?? '', inboxPrefix: `_INBOX_${user}` }
  return jetstreamLedger({
    connection: { servers: nats!.split(','), ...sign },
    monitors: monitors?.split(',') ?? [],
    replicas: count,
  })
}

function fileIn(data: string): string {
  return join(data, 'ledger.sqlite')
}

function existing(data: string): string {
  const file = fileIn(data)
  if (!existsSync(file)) throw new Error(`there is no ledger in ${data}: ${file} does not exist`)
  return file
}

function named(value: string | undefined, option: string): string {
  if (value === undefined) throw new Error(`${option} FILE is missing`)
  return value
}

function moment(text: string): number {
  const time = Date.parse(text)
  if (Number.isNaN(time)) throw new Error(`--until wants a time such as 2026-05-04T14:05:00Z, not "${text}"`)
  return time
}

function keptHeadIn(file: string | undefined): KeptHead | undefined {
  return file === undefined ? undefined : parseKeptHead(readFileSync(file, 'utf8').trim())
}

/** Long work says how far it is, about every ten thousand entries. */
function progressOf(say: Say, done: string): (entries: number) => void {
  return (entries) => {
    if (entries % 10_000 === 0) say.trouble(`… ${entries} entries ${done}`)
  }
}
