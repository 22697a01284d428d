/** How progress is told, for who has never read a curve with a band. */
export function HowTold() {
  return (
    <details className="how-told">
      <summary>How this is told</summary>
      <dl>
        <dt>Like with like</dt>
        <dd>
          A take is only set beside takes of the same exercise, on the same harp, in the same way, at about
          the same tempo and with the same delay taken off. A slower tempo is easier, and would look like
          progress.
        </dd>
        <dt>First attempt and best</dt>
        <dd>
          The first attempt of a day shows what stayed overnight. The best one shows what is within reach, but
          the more often one tries, the better it looks by itself: it is shown and never judged.
        </dd>
        <dt>From … to …</dt>
        <dd>
          Nobody plays the same twice, so no single number is the truth. The two numbers say between what the
          real change lies, as a rule in 95 of 100 such cases. If nothing at all lies between them too, it
          says “no clear change”: it may be getting better, but these takes do not show it yet.
        </dd>
        <dt>Too early</dt>
        <dd>With fewer than eight days of the same, chance is larger than anything one could have learnt.</dd>
        <dt>A bad day is followed by an ordinary one</dt>
        <dd>
          Whatever looks worst today looks better tomorrow even without practice, because bad luck is part of
          every worst. So a weak spot needs two days on which it was above the usual, and whether it got
          better is counted only from the day after it was found.
        </dd>
      </dl>
    </details>
  );
}
