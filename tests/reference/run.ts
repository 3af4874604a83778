import { runFiles } from './runner.ts'

// npm run -s reference -- FILE [FILE…]: meets every check of these files and says each miss. Nothing is skipped.
const files = process.argv.slice(2)
if (files.length === 0) {
  console.error('Name at least one file of checks: npm run -s reference -- FILE [FILE…]')
  process.exitCode = 2
} else {
  const outcome = runFiles(files)
  for (const line of outcome.misses) console.log(line)
  console.log(`${outcome.passed} passed, ${outcome.failed} failed, 0 skipped`)
  process.exitCode = outcome.failed > 0 ? 1 : 0
}
