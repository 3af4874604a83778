import type { Budget } from './benches.ts'
import type { Figure } from './figures.ts'
import type { Result } from './measure.ts'

const width = 40

type Measured = Result & Pick<Budget, 'ifMissed'>

/** The results as a page: a table, and for each budget a small plot of its seven ratios against the aim. */
export function report(results: readonly Measured[], figures: readonly Figure[], machine: string): string {
  const rows = results.map(
    ({ name, what, against, ours, raw, unit, ratio, better, aim, holds }) =>
      `| ${name} | ${what} | ${against} | ${number(ours)} | ${number(raw)} ${unit} | ${number(ratio)} | ${better === 'higher' ? '≥' : '≤'} ${aim} | ${holds ? 'holds' : 'misses'} |`,
  )
  return `# Benchmarks

Measured on ${machine}. Ratios of the same run, median of seven interleaved rounds; written by \`npm run -s bench -- --report\`.

| budget | what | against | ours | raw | ratio | aim | |
| --- | --- | --- | ---: | ---: | ---: | --- | --- |
${rows.join('\n')}

${results
  .filter(({ holds }) => !holds)
  .map(whyMissed)
  .join('')}| figure without a budget | |
| --- | ---: |
${figures.map(({ what, value, unit }) => `| ${what} | ${number(value)} ${unit} |`).join('\n')}

${results.map(plot).join('\n\n')}
`
}

function whyMissed({ name, ratio, aim, ifMissed }: Measured): string {
  return `**${name}** misses its aim in this run, ${number(ratio)} against ${aim}: ${ifMissed ?? 'why is not found out yet.'}\n\n`
}

function plot({ name, ratios, aim }: Result): string {
  const most = Math.max(...ratios, aim) * 1.1
  const column = (value: number) => Math.round((value / most) * width)
  const lines = ratios.map((ratio) => {
    const bar = '█'.repeat(column(ratio)).padEnd(width)
    return `${bar.slice(0, column(aim))}${bar[column(aim)] === '█' ? '█' : '│'}${bar.slice(column(aim) + 1)} ${number(ratio)}`
  })
  return `**${name}**, seven rounds; the line is the aim, ${aim}\n\n\`\`\`\n${lines.join('\n')}\n\`\`\``
}

function number(value: number): string {
  return String(Number(value.toPrecision(3)))
}
