/** What one process of a house over NATS does. */
export const roles = ['testday', 'weather', 'projections', 'gateway'] as const
export type Role = (typeof roles)[number]

/** Takes no more work, ends what it has, and lets go of everything. */
export interface Running {
  /** What whoever started it reads. */
  says: string[]
  close(): Promise<void>
}

/** Closes in the opposite order of opening; what was opened before a fault is closed as well. */
export async function opening(open: (opened: (close: () => unknown) => void) => Promise<string[]>): Promise<Running> {
  const closing: (() => unknown)[] = []
  const close = async () => {
    while (closing.length > 0) await closing.pop()!()
  }
  try {
    return { says: await open((each) => closing.push(each)), close }
  } catch (error) {
    await close()
    throw error
  }
}
