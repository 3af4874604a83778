import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'

/** A question about what was typed: an answer is keep, or look at the sheet again. Nothing is refused. */
export function Asked({ question, onKeep, onRetype }: { question: string; onKeep: () => void; onRetype: () => void }) {
  return (
    <section class="stack paper-asked" role="alert">
      <p>{question}</p>
      <div class="row">
        <Button kind="primary" onPress={onKeep}>
          {words.paper.keep}
        </Button>
        <Button onPress={onRetype}>{words.paper.lookAgain}</Button>
      </div>
    </section>
  )
}
