/** A few words kept on this device through restarts. Where it keeps nothing more, the screen that had them goes on with what it shows. */
export function keepText(key: string, text: string): void {
  try {
    localStorage.setItem(key, text)
  } catch {
    // A full disk or a private window: what must not be lost goes through the outbox, which says so.
  }
}
