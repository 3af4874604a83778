import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { connect, type Socket } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { firefox } from '../../ops/testing/needs.ts'

/** A second engine, for pages that must be read without us. Driven over its own remote protocol, of which two commands are enough. */
export interface Firefox {
  /** The text of a page from a file, and how it announced itself. */
  textOf(file: string): Promise<{ title: string; text: string }>
  close(): Promise<void>
}

/** Nothing is reached: every request but one to a file goes to a proxy that does not exist. */
const settings = {
  'marionette.port': 0,
  'network.proxy.type': 1,
  'network.proxy.http': '127.0.0.1',
  'network.proxy.http_port': 9,
  'network.proxy.ssl': '127.0.0.1',
  'network.proxy.ssl_port': 9,
  'network.proxy.allow_hijacking_localhost': true,
  'app.update.auto': false,
  'browser.shell.checkDefaultBrowser': false,
  'datareporting.policy.dataSubmissionEnabled': false,
  'datareporting.healthreport.uploadEnabled': false,
}

export async function openFirefox(): Promise<Firefox> {
  const profile = mkdtempSync(join(tmpdir(), 'firefox-'))
  writeFileSync(
    join(profile, 'user.js'),
    Object.entries(settings)
      .map(([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});\n`)
      .join(''),
  )
  const browser = spawn(firefox, ['--headless', '--no-remote', '--marionette', '--profile', profile], { stdio: 'ignore' })
  const gone = once(browser, 'exit')
  const close = async () => {
    if (browser.exitCode === null && browser.signalCode === null) browser.kill('SIGTERM')
    await gone
    rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 })
  }
  try {
    const ask = await session(profile, () => browser.exitCode !== null)
    await ask('WebDriver:NewSession', {})
    return {
      async textOf(file) {
        await ask('WebDriver:Navigate', { url: `file://${file}` })
        const script = 'return { title: document.title, text: document.body.innerText }'
        const { value } = await ask('WebDriver:ExecuteScript', { script, args: [] })
        return value as { title: string; text: string }
      },
      close,
    }
  } catch (error) {
    await close()
    throw error
  }
}

type Ask = (command: string, params: object) => Promise<{ value: unknown }>

/** Each message is its length, a colon, and a list: 0 asks, 1 answers. */
async function session(profile: string, isGone: () => boolean): Promise<Ask> {
  const socket = connect({ host: '127.0.0.1', port: await portIn(profile, isGone) })
  await once(socket, 'connect')
  const messages = messagesOf(socket)
  await messages.next()
  let asked = 0
  return async (command, params) => {
    const text = JSON.stringify([0, ++asked, command, params])
    socket.write(`${Buffer.byteLength(text)}:${text}`)
    const [, , error, answer] = (await messages.next()).value as [number, number, { message: string } | null, { value: unknown }]
    if (error) throw new Error(`${command}: ${error.message}`)
    return answer
  }
}

/** It takes a port of its own and writes it down once it listens. */
async function portIn(profile: string, isGone: () => boolean): Promise<number> {
  const file = join(profile, 'MarionetteActivePort')
  for (let tries = 0; tries < 600; tries++) {
    const port = existsSync(file) ? Number(readFileSync(file, 'utf8')) : 0
    if (port > 0) return port
    if (isGone()) throw new Error('Firefox ended before it listened')
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  throw new Error('Firefox did not listen within a minute')
}

async function* messagesOf(socket: Socket): AsyncGenerator<unknown> {
  let read = Buffer.alloc(0)
  for await (const piece of socket) {
    read = Buffer.concat([read, piece as Buffer])
    for (let colon = read.indexOf(':'); colon > 0; colon = read.indexOf(':')) {
      const length = Number(read.subarray(0, colon).toString())
      if (read.length < colon + 1 + length) break
      yield JSON.parse(read.subarray(colon + 1, colon + 1 + length).toString())
      read = read.subarray(colon + 1 + length)
    }
  }
}
