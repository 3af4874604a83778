import type { ComponentChildren } from 'preact'

/** A printer repeats the head of a table on every page: so no page of this can be passed on without the ledger's head on it. */
export const MarkedPages = ({ mark, children }: { mark: string; children: ComponentChildren }) => (
  <table class="marked" role="presentation">
    <thead>
      <tr>
        <td class="digest">{mark}</td>
      </tr>
    </thead>
    <tbody>
      <tr>
        <td>{children}</td>
      </tr>
    </tbody>
  </table>
)

export const headMark = ({ entries, hash }: { entries: number; hash: string }): string => `Ledger head: entry ${entries}, ${hash}`
