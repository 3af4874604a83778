import { spawn } from 'node:child_process'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { inNetworksOfItsOwn } from '../../ops/testing/own-networks.ts'
import type { Findings } from './findings.ts'

/** One of three servers, or two, cut off from everybody; or the leader from the other two alone, so that clients reach it still. */
export type CutOff = 'one' | 'two' | 'leaderFromOthers'

/** A cluster whose servers stand in networks of their own, and lose their lines while clients append. */
export async function partitions(cutOff: CutOff, rounds: number, progress: (round: number) => void): Promise<Findings> {
  const script = fileURLToPath(new URL('./partitions-child.ts', import.meta.url))
  const command = [process.execPath, '--import', 'tsx', script, cutOff, String(rounds)]
  const [program = '', ...words] = inNetworksOfItsOwn(command)
  const child = spawn(program, words, { stdio: ['ignore', 'pipe', 'pipe'] })
  const end = () => child.kill('SIGKILL')
  process.once('exit', end)
  let complaint = ''
  child.stderr.on('data', (chunk: Buffer) => (complaint += chunk.toString()))
  let findings: Findings | undefined
  for await (const line of createInterface({ input: child.stdout })) {
    const said = JSON.parse(line) as { round: number } | { findings: Findings }
    if ('round' in said) progress(said.round)
    else findings = said.findings
  }
  process.off('exit', end)
  if (!findings) throw new Error(`the partitioned cluster told nothing: ${complaint}`)
  return findings
}
