import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, expect, test } from 'vitest'

const house = fileURLToPath(new URL('..', import.meta.url))

let folder: string
const running: ChildProcess[] = []
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'start-'))
})
afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL')
  rmSync(folder, { recursive: true, force: true })
})

test('the first start prints the address and a one-time code, serves without sign-in, and stops when asked', async () => {
  const server = start('--port', '0')
  const address = /stands at (\S+)/.exec(await server.says(/one-time code: \w{4}-\w{4}-\w{4}/))![1]!
  for (const path of ['/', '/health', '/api/openapi.json']) expect([path, (await fetch(address + path)).status]).toEqual([path, 200])
  expect(await (await fetch(`${address}/api/clock`)).json()).toMatchObject({ speed: 1, rehearsal: false })
  expect(statSync(join(folder, 'key')).mode & 0o777).toBe(0o600)

  const second = start('--port', '0')
  expect(await second.ended).toBe(1)
  expect(second.said()).toMatch(/another process/)

  server.child.kill('SIGTERM')
  expect(await server.ended).toBe(0)
})

test('killed at any moment, it starts again on the same data', async () => {
  const first = start('--port', '0')
  await first.says(/one-time code/)
  first.child.kill('SIGKILL')
  await first.ended
  await start('--port', '0').says(/one-time code/)
})

test('a rehearsal says so, and what cannot be is refused in a sentence', async () => {
  const server = start('--port', '0', '--speed', '60', '--at', '2027-05-11T05:30:00Z')
  expect(await server.says(/one-time code/)).toMatch(/Rehearsal: the clock says 2027-05-11T05:3.* runs at 60 times/)

  const refusals: [string[], RegExp][] = [
    [['--port', 'x'], /--port does not take that value/],
    [['--speed', '0'], /--speed does not take that value/],
    [['--at', 'tomorrow'], /--at does not take that value/],
    [['--key', join(folder, 'other', 'key'), '--data', join(folder, 'other')], /must lie outside the data folder/],
    [['--certificate', 'c.pem'], /go together/],
  ]
  for (const [options, says] of refusals) {
    const refused = start(...options)
    expect([options, await refused.ended]).toEqual([options, 1])
    expect(refused.said()).toMatch(says)
  }
})

function start(...options: string[]) {
  const data = options.includes('--data') ? [] : ['--data', join(folder, 'data'), '--key', join(folder, 'key')]
  const child = spawn(process.execPath, ['--import', 'tsx', join(house, 'ops', 'start.ts'), ...data, ...options], { cwd: house })
  running.push(child)
  let text = ''
  let heard = () => {}
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk: Buffer) => {
      text += chunk.toString()
      heard()
    })
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve))
  return {
    child,
    ended,
    said: () => text,
    async says(what: RegExp): Promise<string> {
      while (!what.test(text)) {
        const more = new Promise<void>((resolve) => (heard = resolve))
        if ((await Promise.race([more, ended.then(() => 'ended' as const)])) === 'ended' && !what.test(text))
          throw new Error(`it ended and said:\n${text}`)
      }
      return text
    },
  }
}
