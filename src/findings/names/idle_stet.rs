//! A stet that lets nothing stand.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

/// The phrase, for the run, which alone knows what a stet has let stand.
pub const PHRASE: &str = "left over from before";

rule! {
    /// A `stet` line that lets nothing stand, because the finding it names is not there anymore.
    ///
    /// # Why it matters
    ///
    /// Rosters change every fall. A stet left over from last year hides the same trouble when it comes back.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   tonal center    Bb major
    ///   key signature   2 flats
    ///   stet            signature against center because the score has it so
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   tonal center    Bb major
    ///   key signature   3 flats
    ///   stet            signature against center because the score has it so
    /// ```
    ///
    /// # What to do
    ///
    /// Take the line out.
    IdleStet: "left over from before", Names, Information, reads Card, looks at Any
}

impl Notice for IdleStet {
    type What = ();

    // Only the run, after all other rules, can tell what a stet lets stand; it adds these findings itself.
    fn notice(_card: &Card<'_>) -> Vec<Noticed<()>> {
        Vec::new()
    }

    fn say(_what: &(), _card: &Card<'_>) -> Saying {
        Saying::default()
    }

    const IDLE: bool = true;
}
