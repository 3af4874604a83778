import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { draft } from '@musterbook/ledger/controls'
import type { Ledger } from '@musterbook/ledger/ledger'
import { sqliteLedger } from '@musterbook/ledger/sqlite'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { ledgerCommand } from './ledger-command.ts'

describe('the ledger command', () => {
  let folder: string
  let ledger: Ledger
  const path = (name: string) => join(folder, name)
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'ledger-command-'))
    ledger = sqliteLedger({ file: path('ledger.sqlite') })
    for (let version = 0; version < 6; version++) {
      await ledger.append('day/1', version, { ...draft(`c${version + 1}`), recordedAt: Date.UTC(2026, 4, 4, 14, version) })
    }
    await ledger.append('day/2', 0, { ...draft('c1'), recordedAt: Date.UTC(2026, 4, 4, 9) })
    await ledger.seal('day/1', await ledger.head('day/1'))
  })
  afterEach(async () => {
    await ledger.close()
    rmSync(folder, { recursive: true })
  })

  test('verifies beside the running server, and against a kept head', async () => {
    const head = await run('head', '--data', folder)
    writeFileSync(path('kept'), head.out[0]!)
    expect(await run('verify', '--data', folder, '--head', path('kept'))).toMatchObject({ code: 0, trouble: [] })
    await ledger.append('day/2', 1, draft('c2'))
    expect(await run('verify', '--data', folder, '--head', path('kept'))).toMatchObject({ code: 0, trouble: [] })
    expect((await run('verify', '--data', folder)).out[0]).toContain('8 entries in 2 streams fit. Head ')
  })

  test('exports, verifies the export alone, and imports it with the same head byte for byte', async () => {
    const head = await run('head', '--data', folder)
    writeFileSync(path('kept'), head.out[0]!)
    expect((await run('export', '--data', folder, '--out', path('all.jsonl'))).code).toBe(0)
    expect(await run('verify', '--from', path('all.jsonl'), '--head', path('kept'))).toMatchObject({ code: 0, trouble: [] })
    expect((await run('import', '--data', path('new'), '--from', path('all.jsonl'))).code).toBe(0)
    expect((await run('head', '--data', path('new'))).out).toEqual(head.out)
    expect(readdirSync(path('new')).filter((name) => name.includes('unfinished'))).toEqual([])
    expect((await run('import', '--data', path('new'), '--from', path('all.jsonl'))).trouble[0]).toContain('exists already')
  })

  test('imports nothing of an export that was bent', async () => {
    await run('export', '--data', folder, '--out', path('all.jsonl'))
    writeFileSync(path('bent.jsonl'), readFileSync(path('all.jsonl'), 'utf8').replace('"lap":3', '"lap":4'))
    const imported = await run('import', '--data', path('new'), '--from', path('bent.jsonl'))
    expect(imported.code).toBe(1)
    expect(imported.trouble[0]).toContain('line 1: entry 1 of day/1 does not have the content')
    expect((await run('verify', '--data', path('new'))).trouble[0]).toContain('there is no ledger')
    expect((await run('verify', '--from', path('bent.jsonl'))).code).toBe(1)
  })

  test('backs up while entries are added, verifies the copy, and restores it whole or to a moment', async () => {
    let going = true
    const adding = (async () => {
      for (let version = 1; going; version++) await ledger.append('day/2', version, draft(`c${version + 1}`))
    })()
    const backup = await run('backup', '--data', folder, '--out', path('backup.sqlite'))
    going = false
    await adding
    expect(backup).toMatchObject({ code: 0, trouble: [] })
    expect((await run('restore', '--data', path('whole'), '--from', path('backup.sqlite'))).out[0]).toContain(backup.out[0]!.slice(-64))
    expect((await run('backup', '--data', folder, '--out', path('backup.sqlite'))).trouble[0]).toContain('overwrites nothing')

    const until = await run('restore', '--data', path('moment'), '--from', path('backup.sqlite'), '--until', '2026-05-04T14:02:59Z')
    expect(until.code).toBe(0)
    const heads = JSON.parse((await run('head', '--data', path('moment'))).out[0]!).heads
    expect(heads).toMatchObject([
      { stream: 'day/1', version: 3, sealed: false },
      { stream: 'day/2', version: 1, sealed: false },
    ])
    const again = sqliteLedger({ file: join(path('moment'), 'ledger.sqlite') })
    expect(await again.append('day/1', 3, draft('c-new'))).toMatchObject({ toldTwice: false })
    await again.close()
  })

  test.each([
    [[], 2, 'How to use it'],
    [['burn'], 2, 'How to use it'],
    [['verify', '--colour', 'red'], 2, 'How to use it'],
    [['export'], 1, '--out FILE is missing'],
    [['head', '--data', 'nowhere'], 1, 'there is no ledger in nowhere'],
    [['import', '--data', '.'], 1, '--from FILE is missing'],
    [['restore', '--from', 'x', '--until', 'teatime'], 1, '--until wants a time'],
    [['restore', '--from', 'no-such-backup'], 1, 'there is no backup no-such-backup'],
  ])('says what it wants: %j', async (words, code, sentence) => {
    const answer = await run(...words)
    expect(answer.code).toBe(code)
    expect(answer.trouble[0]).toContain(sentence)
  })
})

async function run(...words: string[]) {
  const out: string[] = []
  const trouble: string[] = []
  const code = await ledgerCommand(words, { out: (line) => out.push(line), trouble: (line) => trouble.push(line) })
  return { code, out, trouble }
}
