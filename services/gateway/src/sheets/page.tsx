import type { ComponentChildren } from 'preact'
import { render } from 'preact-render-to-string'
import type { Language } from '@musterbook/vocabulary/people'
import { studentWords, type StudentWords } from './student-words.ts'

type Paper = 'A4' | 'Letter'

export interface PageProps {
  title: string
  paper: Paper
  language?: Language
  /** What head and foot say, where the sheet itself is in that language; else English. */
  say?: StudentWords | undefined
  /** A rehearsal looks different, on paper too. */
  rehearsal: boolean
  printedAt: string
  /** Whose page it is, and of which day. */
  of: string
  children: ComponentChildren
}

/** A page for the printer: markup and two stylesheets of our own, nothing inline. */
export function page({ title, paper, language = 'en', say = studentWords.en, rehearsal, printedAt, of, children }: PageProps): string {
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
              <p class="rehearsal">{say.rehearsal}</p>
            </header>
          )}
          <main>{children}</main>
          <footer>
            <p>
              <bdi>{of}.</bdi> {say.footer(printedAt)} {rehearsal && say.rehearsal}
            </p>
          </footer>
        </body>
      </html>,
    )
  )
}
