import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { Findings } from './findings.ts'

/**
 * Fills a disk of a few megabytes to the last byte under a running ledger. The disk is in memory, in a mount namespace of the child alone, so the
 * machine never sees it.
 */
export function diskFull(folder: string): Findings {
  const script = fileURLToPath(new URL('./disk-full-child.ts', import.meta.url))
  const inside = 'mount -t tmpfs -o size=3m tmpfs "$1" && exec "$2" --import tsx "$3" "$1"'
  const namespace = process.getuid?.() === 0 ? ['-m'] : ['-r', '-m']
  const { stdout, stderr, status } = spawnSync('unshare', [...namespace, 'sh', '-c', inside, 'sh', folder, process.execPath, script], {
    encoding: 'utf8',
  })
  if (status !== 0) throw new Error(`a small disk needs root, or user namespaces, and unshare (util-linux): ${stderr}`)
  return JSON.parse(stdout.trim().split('\n').at(-1)!) as Findings
}

/** Lets the file grow to a limit and no further: every write beyond it fails, with an error that is not that of a full disk. */
export function failingDisk(folder: string): Findings {
  const script = fileURLToPath(new URL('./failing-disk-child.ts', import.meta.url))
  const inside = 'trap "" XFSZ; ulimit -f 2000; exec "$2" --import tsx "$3" "$1"'
  const { stdout, stderr, status } = spawnSync('sh', ['-c', inside, 'sh', folder, process.execPath, script], { encoding: 'utf8' })
  if (status !== 0) throw new Error(stderr)
  return JSON.parse(stdout.trim().split('\n').at(-1)!) as Findings
}
