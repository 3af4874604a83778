import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { natsServer } from './nats-server.ts'

describe('the nats-server that is used', () => {
  const folder = mkdtempSync(join(tmpdir(), 'nats-server-'))
  afterAll(() => rmSync(folder, { recursive: true }))
  /** Says a version as a nats-server would, and is none. */
  const binary = (version: string) => {
    const file = join(folder, `says-${version}`)
    writeFileSync(file, `#!/bin/sh\necho 'nats-server: v${version}'\n`, { mode: 0o755 })
    return file
  }
  const nowhere = { named: undefined, fetched: join(folder, 'none'), onPath: join(folder, 'none'), fetch: () => 'fetched anew' }

  test('is the one that the setting names', () => {
    expect(natsServer({ ...nowhere, named: binary('2.12.3') })).toContain('says-2.12.3')
  })

  test.each(['2.9.10', '2.10.27', '2.12.2'])('is never one that is too old: %s', (version) => {
    expect(() => natsServer({ ...nowhere, named: binary(version) })).toThrow(`a nats-server ${version}: 2.12.3 is the oldest`)
    expect(natsServer({ ...nowhere, onPath: binary(version), fetch: (found) => `passed over ${found}` })).toBe(`passed over ${version}`)
    expect(natsServer({ ...nowhere, fetched: binary(version) })).toBe('fetched anew')
  })

  test('is not something else that the setting names', () => {
    expect(() => natsServer({ ...nowhere, named: join(folder, 'none') })).toThrow('does not run as a nats-server')
  })

  test('is the one on the PATH when it is new enough, and fetched when there is none', () => {
    expect(natsServer({ ...nowhere, onPath: binary('2.14.0') })).toContain('says-2.14.0')
    expect(natsServer(nowhere)).toBe('fetched anew')
  })
})
