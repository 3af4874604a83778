import { encodeQR } from 'qr'

interface Props {
  title: string
  date: string
  students: { name: string; code: string; className: string; bib: string | null }[]
}

/** A card to cut out for each student: the code that the kiosk reads, and the bib where one is bound. */
export function CodeSheet({ title, date, students }: Props) {
  return (
    <>
      <h1>Codes and bibs</h1>
      <p>
        {title}, {date}. Give each card to its student only.
      </p>
      <div class="cards">
        {students.map(({ name, code, className, bib }) => (
          <div class="card" key={code}>
            {bib && <p class="bib">{bib}</p>}
            <div role="img" aria-label={`Code ${code}`} dangerouslySetInnerHTML={{ __html: encodeQR(code, 'svg', { ecc: 'medium' }) }} />
            <p>
              <strong>{name}</strong>
              <br />
              {className}, {code}
            </p>
          </div>
        ))}
      </div>
    </>
  )
}
