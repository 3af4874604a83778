import { encodeQR } from 'qr'

interface Props {
  title: string
  date: string
  bibs: readonly string[]
}

/** Two bibs a page, cut along the corner marks. Nobody's name stands outside: who wears it is bound at the check-in. */
export function BibSheet({ title, date, bibs }: Props) {
  return (
    <div>
      <h1 class="spoken">Bibs</h1>
      {bibs.map((bib) => (
        <section class="bib-sheet" key={bib} aria-label={`Bib ${bib}`}>
          {['top left', 'top right', 'foot left', 'foot right'].map((corner) => (
            <i class={corner} key={corner} />
          ))}
          <p class={bib.length > 3 ? 'number long' : 'number'}>{bib}</p>
          <div role="img" aria-label={`Code of bib ${bib}`} dangerouslySetInnerHTML={{ __html: encodeQR(bib, 'svg', { ecc: 'high' }) }} />
          <p class="of-day">
            {title}, {date}
          </p>
        </section>
      ))}
    </div>
  )
}
