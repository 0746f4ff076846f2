//! A range that lies an octave or a clef away from where parts of the instrument lie.

use crate::catalogue::sections::part_rows;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::{Edit, Span};

use super::register::{Beside, beside};
use super::written::ranges;

rule! {
    /// A range that the instrument has, nearly an octave above or below where its parts lie in school music, and
    /// that would fit an octave away or in treble clef. Parts are taken to lie in the ranges of grade 3, which
    /// are from memory.
    ///
    /// # Why it matters
    ///
    /// An octave or a clef is easily slipped when a range is copied, and the section is then judged by notes that
    /// are not in the part.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Where the Heron Stands"
    ///   parts
    ///     tuba            Bb2-Bb3
    ///                     ^^^^^^^
    ///     horn            C5-C6
    ///                     ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Where the Heron Stands"
    ///   parts
    ///     tuba            Bb1-Bb2
    ///     horn            G3-C5
    ///     clarinet 2      E3-E4
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the part: move the range by an octave, or say which clef it is in.
    PartOffItsRegister: "part off its register", Ranges, Information, reads Catalogue, looks at Parts
}

/// The range and where it should lie.
pub struct Register {
    part: String,
    instrument: String,
    name: Span,
    beside: Beside,
    concert: bool,
}

impl Notice for PartOffItsRegister {
    type What = Register;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Register>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found: Vec<Noticed<Register>> = Vec::new();
        for row in part_rows(piece) {
            for name in &row.names {
                let Some(instrument) = card.instrument(&name.text) else {
                    continue;
                };
                for (span, range) in ranges(row, instrument) {
                    if found.iter().any(|noticed| noticed.span == span) {
                        continue;
                    }
                    if let Some(beside) = beside(card, row, name, instrument, span, range) {
                        let what = Register {
                            part: name.one_form(),
                            instrument: instrument.name.to_string(),
                            name: name.words,
                            beside,
                            concert: card.words(span).contains("concert"),
                        };
                        found.push(Noticed::new(span, what));
                    }
                }
            }
        }
        found
    }

    fn say(what: &Register, _card: &Card<'_>) -> Saying {
        let side = if what.beside.high { "above" } else { "below" };
        let fits = match (&what.beside.octave, &what.beside.treble) {
            (Some(octave), None) => format!("{octave} would fit"),
            (None, Some(name)) => format!("the part for {name} lies there"),
            (Some(octave), Some(name)) => format!("{octave} would fit, and the part for {name} lies there"),
            (None, None) => "it may be in another clef".to_owned(),
        };
        Saying {
            place: what.part.clone(),
            says: format!(
                "The range lies about an octave {side} where {} parts lie, {} in school music: {fits}.",
                what.instrument, what.beside.usual
            ),
            why: "An octave or a clef slips easily, and the section is judged by notes that are not in the part."
                .to_owned(),
            todo: "Look at the part: move the range by an octave, or say which clef it is in.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Register>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let mut repairs = Vec::new();
        // A range in concert pitch is shown in written pitch, so nothing is written over it.
        if let Some(octave) = what.beside.octave.filter(|_| !what.concert) {
            repairs.push(Repair::to_decide(
                format!("Write {octave}"),
                vec![Edit::replace(noticed.span, octave.to_string())],
            ));
        }
        if let Some(name) = &what.beside.treble {
            repairs.push(Repair::to_decide(
                format!("Write {name}"),
                vec![Edit::replace(what.name, name.clone())],
            ));
        }
        repairs
    }
}
