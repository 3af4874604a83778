import { execFile } from 'node:child_process'
import { X509Certificate } from 'node:crypto'
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { isIP } from 'node:net'
import { join, relative, resolve, sep } from 'node:path'
import { promisify } from 'node:util'

interface Wanted {
  folder: string
  data: string
  /** Names and addresses under which tablets reach the machine. */
  names: readonly string[]
}

export interface Made {
  /** The one file that goes to tablets: no key is in it. */
  authorityFile: string
  names: readonly string[]
  until: string
  fingerprint: string
}

export const certificateIn = (folder: string) => ({
  authority: join(folder, 'authority.crt'),
  authorityKey: join(folder, 'authority.key'),
  certificate: join(folder, 'server.crt'),
  key: join(folder, 'server.key'),
})

const authorityDays = 3650
/** Tablets refuse a certificate that holds much longer than two years. */
const certificateDays = 730
const renewWithinDays = 30

/** An authority of this site's own and the machine's certificate under it. Never writes over what is there. */
export async function makeCertificate(wanted: Wanted): Promise<Made> {
  checked(wanted)
  const files = certificateIn(wanted.folder)
  const there = Object.values(files).find((file) => existsSync(file))
  if (there)
    throw new Error(
      `${there} is there already and is not written over: every tablet would have to be visited again. ` +
        'With --renew the machine gets a new certificate and tablets keep their trust; for a new authority name another --folder.',
    )
  mkdirSync(wanted.folder, { recursive: true, mode: 0o700 })
  chmodSync(wanted.folder, 0o700)
  await inScratch(wanted.folder, async (scratch) => {
    const made = certificateIn(scratch)
    await authority(made, scratch, wanted.names)
    await issued({ ...made, issuer: made }, scratch, wanted.names)
    for (const part of ['authorityKey', 'authority', 'key', 'certificate'] as const) renameSync(made[part], files[part])
  })
  return says(wanted.folder)
}

/** A new key and certificate for the machine under the same authority; the one before gives way only once the new one verifies. */
export async function renewCertificate(wanted: Wanted): Promise<Made> {
  checked(wanted)
  const files = certificateIn(wanted.folder)
  if (!existsSync(files.authority) || !existsSync(files.authorityKey))
    throw new Error(`There is no authority in ${wanted.folder} to renew under. Without --renew one is made.`)
  await inScratch(wanted.folder, async (scratch) => {
    const made = certificateIn(scratch)
    const before = existsSync(files.certificate) ? namesIn(files.certificate) : []
    await issued({ ...made, issuer: files }, scratch, [...new Set([...before, ...wanted.names])])
    renameSync(made.key, files.key)
    renameSync(made.certificate, files.certificate)
  })
  return says(wanted.folder)
}

/** What `npm start -- --tls` serves with, and what to say of its age. Throws with a sentence when it is not there or is over. */
export function servedWith(folder: string, now: number): { certificateFile: string; keyFile: string; warning: string | null } {
  const { certificate, key } = certificateIn(folder)
  if (!existsSync(certificate) || !existsSync(key))
    throw new Error(`There is no certificate in ${folder}. Make one: npm run -s certificate`)
  const ends = Date.parse(new X509Certificate(readFileSync(certificate)).validTo)
  const days = Math.floor((ends - now) / 86_400_000)
  if (days < 0) throw new Error(`The certificate in ${folder} is over. Renew it: npm run -s certificate -- --renew`)
  const warning = days <= renewWithinDays ? `The certificate ends in ${days} days. Renew it: npm run -s certificate -- --renew` : null
  return { certificateFile: certificate, keyFile: key, warning }
}

function checked({ folder, data, names }: Wanted): void {
  const inside = relative(resolve(data), resolve(folder))
  if (inside === '' || !(inside.startsWith('..') || inside.startsWith(sep)))
    throw new Error(`The certificate’s keys must lie outside the data folder: whoever copies ${data} would have them as well.`)
  const wrong = names.find(
    (name) => isIP(name) === 0 && !/^(?=.{1,253}$)[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*$/.test(name),
  )
  if (wrong !== undefined)
    throw new Error(`“${wrong}” is neither an address nor a name of a machine (small letters, digits, dots and dashes).`)
}

/** Everything is made aside and moved into place whole, so that a run that was broken off leaves nothing half made. */
async function inScratch(folder: string, make: (scratch: string) => Promise<void>): Promise<void> {
  const scratch = mkdtempSync(join(folder, 'making-'))
  try {
    await make(scratch)
  } finally {
    rmSync(scratch, { recursive: true, force: true })
  }
}

type Files = ReturnType<typeof certificateIn>

/**
 * A tablet that trusts an authority trusts it for whatever it signs. This one may sign for private networks and for this
 * site's own names alone, so that a stolen key opens no bank.
 */
async function authority({ authority, authorityKey }: Files, scratch: string, names: readonly string[]): Promise<void> {
  const own = names.filter((name) => isIP(name) === 0)
  const outside = names.filter((name) => isIP(name) !== 0 && !isPrivate(name))
  const permitted = [
    ...[...new Set([...own, 'localhost', 'local'])].map((name) => `permitted;DNS:${name}`),
    ...privateNetworks.map(([network, mask]) => `permitted;IP:${network}/${mask}`),
    ...outside.map((address) => `permitted;IP:${address}/${address.includes(':') ? everyBit6 : '255.255.255.255'}`),
  ]
  const settings = settingsFile(scratch, 'authority.cnf', 'Musterbook site authority', [
    'basicConstraints = critical, CA:TRUE, pathlen:0',
    'keyUsage = critical, keyCertSign, cRLSign',
    'subjectKeyIdentifier = hash',
    `nameConstraints = critical, ${permitted.join(', ')}`,
  ])
  await openssl('req', '-x509', ...newKey, '-keyout', authorityKey, '-out', authority, '-days', String(authorityDays), '-config', settings)
  chmodSync(authorityKey, 0o600)
}

async function issued(files: Files & { issuer: Files }, scratch: string, names: readonly string[]): Promise<void> {
  const { key, certificate, issuer } = files
  const settings = settingsFile(scratch, 'server.cnf', 'Musterbook', [
    'basicConstraints = critical, CA:FALSE',
    'keyUsage = critical, digitalSignature',
    'extendedKeyUsage = serverAuth',
    'subjectKeyIdentifier = hash',
    'authorityKeyIdentifier = keyid',
    `subjectAltName = ${names.map((name) => `${isIP(name) === 0 ? 'DNS' : 'IP'}:${name}`).join(', ')}`,
  ])
  const signing = ['-CA', issuer.authority, '-CAkey', issuer.authorityKey, '-days', String(certificateDays)]
  await openssl('req', '-x509', ...newKey, '-keyout', key, '-out', certificate, ...signing, '-config', settings)
  chmodSync(key, 0o600)
  await openssl('verify', '-CAfile', issuer.authority, '-purpose', 'sslserver', certificate).catch((error: Error) => {
    throw new Error(
      `The authority that is there may not sign for every one of these names: ${names.join(', ')}. ` +
        `For a name that it was not made for, make a new authority in another --folder. (${error.message})`,
    )
  })
}

const newKey = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes', '-sha256']
const everyBit6 = 'ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff'
/** RFC 1918, loopback, link-local (RFC 3927) and unique local IPv6 (RFC 4193). */
const privateNetworks = [
  ['10.0.0.0', '255.0.0.0'],
  ['172.16.0.0', '255.240.0.0'],
  ['192.168.0.0', '255.255.0.0'],
  ['127.0.0.0', '255.0.0.0'],
  ['169.254.0.0', '255.255.0.0'],
  ['fc00::', 'fe00::'],
] as const
const isPrivate = (address: string): boolean => /^(10\.|127\.|192\.168\.|169\.254\.|172\.(1[6-9]|2\d|3[01])\.|f[cd])/.test(address)

function settingsFile(scratch: string, name: string, called: string, extensions: readonly string[]): string {
  const file = join(scratch, name)
  const lines = ['[req]', 'prompt = no', 'distinguished_name = who', 'x509_extensions = what', '[who]', `CN = ${called}`, '[what]']
  writeFileSync(file, [...lines, ...extensions, ''].join('\n'))
  return file
}

const run = promisify(execFile)

async function openssl(...words: string[]): Promise<void> {
  await run('openssl', words).catch((error: NodeJS.ErrnoException & { stderr?: string }) => {
    throw error.code === 'ENOENT'
      ? new Error('The program openssl (3.0 or later) is needed and was not found. On Debian: apt-get install openssl.')
      : new Error(`openssl ${words[0]}: ${(error.stderr ?? error.message).trim().split('\n').at(-1)}`)
  })
}

const namesIn = (certificate: string): string[] =>
  (new X509Certificate(readFileSync(certificate)).subjectAltName ?? '').split(', ').map((one) => one.replace(/^(DNS|IP Address):/, ''))

function says(folder: string): Made {
  const files = certificateIn(folder)
  const served = new X509Certificate(readFileSync(files.certificate))
  return {
    authorityFile: files.authority,
    names: namesIn(files.certificate),
    until: new Date(served.validTo).toISOString().slice(0, 10),
    fingerprint: new X509Certificate(readFileSync(files.authority)).fingerprint256,
  }
}
