import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs'
import { createServer } from 'node:https'
import { request } from 'node:https'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { certificateIn, makeCertificate, renewCertificate, servedWith } from './certificate-files.ts'

const site = mkdtempSync(join(tmpdir(), 'certificate-'))
const folder = join(site, 'keys')
const wanted = { folder, data: join(site, 'data'), names: ['localhost', '127.0.0.1', 'skarnvale.local'] }
const files = certificateIn(folder)

beforeAll(() => makeCertificate(wanted))
afterAll(() => rmSync(site, { recursive: true, force: true }))

test('its keys are readable by nobody else, and what is there is never written over', async () => {
  for (const key of [files.authorityKey, files.key]) expect(statSync(key).mode & 0o777).toBe(0o600)
  expect(statSync(folder).mode & 0o777).toBe(0o700)
  const before = readFileSync(files.authorityKey, 'utf8')
  await expect(makeCertificate(wanted)).rejects.toThrow(/is there already and is not written over/)
  expect(readFileSync(files.authorityKey, 'utf8')).toBe(before)
})

test('it never lies in the data folder, and takes no name that is none', async () => {
  await expect(makeCertificate({ ...wanted, folder: join(site, 'data', 'keys') })).rejects.toThrow(/outside the data folder/)
  await expect(makeCertificate({ ...wanted, folder: join(site, 'other'), names: ['a,DNS:bank.example'] })).rejects.toThrow(/neither/)
})

test('whoever trusts the authority reaches the machine by its names, and nobody else does', async () => {
  expect(await reach('skarnvale.local', true)).toBe(200)
  expect(await reach('skarnvale.local', false)).toMatch(/UNABLE_TO|SELF_SIGNED/)
  expect(await reach('elsewhere.local', true)).toBe('ERR_TLS_CERT_ALTNAME_INVALID')
})

test('renewed, it is another certificate with the same names under the same authority; not for a stranger’s name', async () => {
  const before = readFileSync(files.certificate, 'utf8')
  const authority = readFileSync(files.authority, 'utf8')
  await expect(renewCertificate({ ...wanted, names: ['bank.example'] })).rejects.toThrow(/may not sign/)
  expect(readFileSync(files.certificate, 'utf8')).toBe(before)
  expect((await renewCertificate({ ...wanted, names: ['10.4.0.9'] })).names).toEqual([...wanted.names, '10.4.0.9'])
  expect(readFileSync(files.certificate, 'utf8')).not.toBe(before)
  expect(readFileSync(files.authority, 'utf8')).toBe(authority)
  expect(await reach('skarnvale.local', true)).toBe(200)
})

test('the server says in time that it ends, and does not start once it has', () => {
  const day = 86_400_000
  expect(servedWith(folder, Date.now()).warning).toBeNull()
  expect(servedWith(folder, Date.now() + 710 * day).warning).toMatch(/ends in (19|20) days/)
  expect(() => servedWith(folder, Date.now() + 740 * day)).toThrow(/is over/)
  expect(() => servedWith(join(site, 'none'), Date.now())).toThrow(/There is no certificate/)
})

async function reach(name: string, isTrusted: boolean): Promise<unknown> {
  const server = createServer({ cert: readFileSync(files.certificate), key: readFileSync(files.key) }, (_, answer) => answer.end('here'))
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  const ca = isTrusted ? readFileSync(files.authority) : undefined
  const heard = await new Promise((resolve) => {
    request({ host: '127.0.0.1', port, servername: name, agent: false, ...(ca && { ca }), headers: { host: name } }, (answer) => {
      answer.resume()
      resolve(answer.statusCode)
    })
      .on('error', (error: NodeJS.ErrnoException) => resolve(error.code))
      .end()
  })
  server.close()
  return heard
}
