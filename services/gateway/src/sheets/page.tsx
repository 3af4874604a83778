import type { ComponentChildren } from 'preact'
import { render } from 'preact-render-to-string'

export type Paper = 'A4' | 'Letter'

interface PageProps {
  title: string
  paper: Paper
  language?: string
  /** A rehearsal looks different, on paper too. */
  rehearsal: boolean
  printedAt: string
  children: ComponentChildren
}

/** A page for the printer: markup and two stylesheets of our own, nothing inline. */
export function page({ title, paper, language = 'en', rehearsal, printedAt, children }: PageProps): string {
  return (
    '<!doctype html>' +
    render(
      <html lang={language} dir={language === 'ar' ? 'rtl' : 'ltr'}>
        <head>
          <meta charset="utf-8" />
          <meta name="viewport" content="width=device-width" />
          <title>{title}</title>
          <link rel="stylesheet" href="/sheets/sheet.css" />
          <link rel="stylesheet" href={`/sheets/${paper === 'A4' ? 'a4' : 'letter'}.css`} />
        </head>
        <body>
          {rehearsal && (
            <header>
              <p class="rehearsal">Rehearsal: not a real record</p>
            </header>
          )}
          <main>{children}</main>
          <footer>
            <p>
              Local policy and licensed clinicians decide. Musterbook records and relays. Printed {printedAt}.{rehearsal && ' Rehearsal.'}
            </p>
          </footer>
        </body>
      </html>,
    )
  )
}
