/** The date that the policy of records gives, in civil days from receipt. Where none is in force, whoever opens the case says it. */
export function answerBy(receivedOn: string, days: number | undefined): string {
  const received = Date.parse(receivedOn)
  return days !== undefined && Number.isFinite(received) ? new Date(received + days * 86_400_000).toISOString().slice(0, 10) : ''
}
