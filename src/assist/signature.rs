//! What a field's value looks like, shown by an example while it is written.

use crate::notation::Of;
use crate::notation::fields::{RowsOf, Shape, fields_of};
use crate::text::Span;

use super::Place;
use super::line::{Here, here};

/// One stretch of the example.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slot {
    /// Where it stands in the label, in bytes.
    pub span: Span,
    /// What goes there.
    pub says: &'static str,
}

/// What a value looks like, by an example that a director would type.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// The field with an example: `tempo  quarter = 76 at 33`.
    pub label: String,
    /// Its stretches.
    pub slots: Vec<Slot>,
    /// The one that the cursor is at; none behind the last.
    pub active: Option<usize>,
    /// What the field says.
    pub says: String,
}

/// How a stretch begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Begins {
    /// With the item.
    First,
    /// Behind these words.
    Behind(&'static str),
    /// Behind two blanks or a comma: the facts of a row.
    Facts,
    /// With the next item.
    Again,
}

/// The stretches of an example: what joins each to the one before it, the words, how it begins, what it says.
type Shaped = &'static [(&'static str, &'static str, Begins, &'static str)];

use Begins::{Again, Behind, Facts, First};

const FROM_THERE: &str = "From there on: a measure, a mark, trio, coda.";
const LATER: &str = "The next one on the way, after a comma.";
const MORE: &str = "More of them, after a comma.";

/// What a list looks like of which the field's own example is the best one.
const OWN: Shaped = &[];

fn shape(of: Of) -> Shaped {
    match of {
        Of::Words
        | Of::Condition
        | Of::Needs
        | Of::Number
        | Of::Measures
        | Of::Title
        | Of::Season
        | Of::Meets
        | Of::Pickup
        | Of::Takes
        | Of::Loan
        | Of::License
        | Of::Bought
        | Of::Track
        | Of::Events
        | Of::Change
        | Of::Staffing
        | Of::Pace
        | Of::Postage
        | Of::Absent
        | Of::Away
        | Of::Pin
        | Of::ConcertLength
        | Of::NewSkills
        | Of::Together
        | Of::PartNumbers
        | Of::Size
        | Of::YesNo
        | Of::Done
        | Of::Year
        | Of::PartName
        | Of::Family
        | Of::Clef
        | Of::Sounds => OWN,
        Of::KeyTaught => &[
            ("", "Bb major", First, "The key, or signatures up to 2 flats."),
            (", ", "G minor", Again, MORE),
        ],
        Of::Key => &[
            (
                "",
                "G minor",
                First,
                "A concert key, such as G minor or D dorian.",
            ),
            (" ", "at 33", Behind(" at "), FROM_THERE),
            (", ", "Bb major at 73", Again, LATER),
        ],
        Of::Signature => &[
            ("", "2 flats", First, "Such as 2 flats, 1 sharp or none; concert."),
            (" ", "at 33", Behind(" at "), FROM_THERE),
            (", ", "1 flat at 73", Again, LATER),
        ],
        Of::Meter => &[
            ("", "4/4", First, "Such as 4/4, 6/8, cut or none."),
            (" ", "at 33", Behind(" at "), FROM_THERE),
            (", ", "3/4 at 73", Again, LATER),
        ],
        Of::Tempo => &[
            (
                "",
                "quarter",
                First,
                "The note that is counted, a tempo term, slower or faster.",
            ),
            (" ", "= 76", Behind("="), "How many to the minute: 76, 60-66."),
            (" ", "at 33", Behind(" at "), FROM_THERE),
            (", ", "quarter = 144 at 73", Again, LATER),
        ],
        Of::Lasts => &[("", "3:10", First, "Minutes and seconds, or 20 minutes.")],
        Of::Moment => &[
            ("", "2026-12-10", First, "The day."),
            (", ", "19:00", Behind(","), "The hour, where it matters."),
        ],
        Of::Money | Of::Price => &[
            ("", "62", First, "The sum."),
            (" ", "USD", Behind(" "), "The currency."),
        ],
        Of::Grade => &[
            ("", "1.5", First, "The grade."),
            (
                " ",
                "publisher",
                Behind(" "),
                "Who says so: publisher, ours, or a list in quotation marks.",
            ),
            (", ", "2 ours", Again, MORE),
        ],
        Of::Mark => &[
            ("", "A", First, "The letter or number, or trio, coda."),
            (" ", "9", Behind(" "), "The measure it is at."),
            (", ", "B 33", Again, MORE),
        ],
        Of::Road => &[
            ("", "repeat 33-40", First, "A step of the way through the piece."),
            (", ", "segno at 9, to coda at 32, D.S. al Coda at 80", Again, MORE),
        ],
        Of::Range => &[(
            "",
            "A3-C5",
            First,
            "The lowest and the highest written note; C4 is middle C.",
        )],
        Of::InstrumentRange => &[
            ("", "trumpet", First, "The section."),
            (
                " ",
                "Bb3-D5",
                Behind(" "),
                "The lowest and the highest written note.",
            ),
            (", ", "flute D5-C6", Again, MORE),
        ],
        Of::Equipment => &[
            (
                "",
                "timpani 29 and 26",
                First,
                "An instrument, perhaps with sizes.",
            ),
            (", ", "snare", Again, MORE),
        ],
        Of::Skill => &[
            ("", "eighth pairs", First, "What players are to know."),
            (
                " ",
                "by 2026-10-01",
                Behind(" by "),
                "The day by which it is taught.",
            ),
            (", ", "slurs", Again, MORE),
        ],
        Of::Phrase => &[
            ("", "over the break", First, "As the finding is called."),
            (", ", "score missing", Again, MORE),
        ],
        Of::Stet => &[
            ("", "over the break", First, "As the finding is called."),
            (
                " ",
                "because the seconds are eighth graders this year",
                Behind(" because "),
                "Why it may stand, to the end of the paragraph.",
            ),
        ],
        Of::People => &[
            ("", "Tam Lindqvist", First, "Who wrote it; two are joined by and."),
            (
                ", ",
                "arr. Nell Farrow",
                Behind(","),
                "Who arranged it (arr.), transcribed it (trans.), edited it (ed.).",
            ),
        ],
        Of::Copies => &[
            ("", "8", First, "How many."),
            (" ", "flute 1", Behind(" "), "Of which part."),
            (", ", "1 score", Again, MORE),
        ],
        Of::Performance => &[
            ("", "2024-05-12", First, "The day."),
            (" ", "\"Seventh Grade Band\"", Behind("\""), "Who played it."),
            (
                ", ",
                "took 6 weeks, result I I II",
                Behind(","),
                "How long it took, and what the judges said.",
            ),
        ],
        Of::Held | Of::Listed => &[
            ("", "\"Gravel Road March\"", First, "The name in quotation marks."),
            (" ", "grade 2", Behind(" grade "), "Its grade there."),
            (", ", "\"Harbor Parade\"", Again, MORE),
        ],
    }
}

fn row_shape(of: RowsOf) -> Shaped {
    match of {
        RowsOf::Parts => &[
            (
                "",
                "clarinet 2",
                First,
                "The instrument and the number of the part.",
            ),
            ("  ", "G3-B4", Facts, "The written range."),
            (
                ", ",
                "over the break, solo 5-12",
                Again,
                "What else it asks, and what it shares.",
            ),
        ],
        RowsOf::Percussion => &[
            (
                "",
                "bells",
                First,
                "The instrument, such as snare or advanced snare.",
            ),
            ("  ", "5-20", Facts, "Where it plays: 5-20, 49-80, or throughout."),
            (", ", "same as flute 1", Again, "How it goes with other parts."),
        ],
        RowsOf::Players => &[
            ("", "clarinet", First, "The section."),
            ("  ", "12", Facts, "Its players."),
            (", ", "4 over the break", Again, "What some of them can do."),
        ],
        RowsOf::Percussionists => &[
            ("", "P1", First, "A seat, or initials; never full names."),
            ("  ", "mallets", Facts, "What they play."),
            (", ", "timpani", Again, MORE),
        ],
        RowsOf::Program => &[(
            "",
            "\"Harbor Parade\"",
            First,
            "A piece, in the order of playing.",
        )],
        RowsOf::Pages => &[
            ("", "percussion 1", First, "The page as it is printed."),
            ("  ", "snare", Facts, "What is on it."),
            (", ", "crash cymbals", Again, MORE),
        ],
        RowsOf::Movements => &[
            ("", "1", First, "The movement's number."),
            (
                " ",
                "Morning",
                Behind(" "),
                "Its title; its own lines hang below.",
            ),
        ],
        RowsOf::Seats => &[
            (
                "",
                "flute",
                First,
                "Who sits in this row, from one side to the other.",
            ),
            (", ", "oboe", Again, MORE),
        ],
    }
}

/// The shape of the value at the place; none in running text, in a reason, and where no value is written.
pub fn of(place: &Place<'_>) -> Option<Signature> {
    let text = place.text();
    let here = here(place.entry.kind, &place.reading.tree, text, place.offset)?;
    let (title, spec, shaped, written) = match here {
        Here::Value(spec, written) => match spec.shape {
            Shape::List(of) | Shape::Value(of) => (spec.name, Some(spec), shape(of), written),
            Shape::Rows(of) => (spec.name, Some(spec), row_shape(of), written),
            _ => return None,
        },
        Here::Row(of, written) => {
            let all = place.entry.kind.map_or(&[][..], fields_of);
            let spec = all.iter().find(|spec| spec.shape == Shape::Rows(of));
            (spec.map_or("", |spec| spec.name), spec, row_shape(of), written)
        }
        _ => return None,
    };
    let words = written.slice(text);
    let mut label = format!("{title}  ").trim_start().to_owned();
    let mut slots = Vec::new();
    for (joint, example, _, says) in shaped {
        label.push_str(joint);
        let start = Span::whole(&label).end;
        label.push_str(example);
        slots.push(Slot {
            span: Span::new(start, Span::whole(&label).end),
            says,
        });
    }
    if shaped.is_empty()
        && let Some(spec) = spec
    {
        if spec.example.is_empty() {
            return None;
        }
        let start = Span::whole(&label).end;
        label.push_str(spec.example);
        slots.push(Slot {
            span: Span::new(start, Span::whole(&label).end),
            says: "For example.",
        });
    }
    Some(Signature {
        active: active(shaped, words).or_else(|| (!slots.is_empty() && shaped.is_empty()).then_some(0)),
        label,
        slots,
        says: spec.map_or_else(String::new, |spec| spec.says.to_owned()),
    })
}

/// The stretch that is being written: the last one that has begun in the item before the cursor.
fn active(shaped: Shaped, words: &str) -> Option<usize> {
    let gap = words.trim_start().find("  ").is_some();
    let has_comma_slot = shaped
        .iter()
        .any(|(_, _, begins, _)| matches!(begins, Behind(",")));
    let is_row = shaped.iter().any(|(_, _, begins, _)| *begins == Facts);
    // In a list each comma begins anew; in a row or a value with commas of its own it does not.
    let item = match has_comma_slot || is_row {
        true => words,
        false => words.rsplit(',').next().unwrap_or(words),
    };
    let item = item.trim_start();
    let mut found = None;
    let mut from = 0;
    for (number, (_, _, begins, _)) in shaped.iter().enumerate() {
        let begun = match begins {
            First => true,
            Behind(mark) => match item.get(from..).and_then(|rest| rest.find(mark)) {
                Some(at) => {
                    from = from.saturating_add(at).saturating_add(mark.len());
                    true
                }
                None => false,
            },
            Facts => gap,
            Again => is_row && gap && words.contains(','),
        };
        if begun {
            found = Some(number);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cursor_says_which_stretch_is_written() {
        let table = [
            (Of::Tempo, "", 0),
            (Of::Tempo, "quarter ", 0),
            (Of::Tempo, "quarter = ", 1),
            (Of::Tempo, "quarter = 76 at ", 2),
            (Of::Tempo, "quarter = 76 at 33, ", 0),
            (Of::Key, "G minor, Bb major at ", 1),
            (Of::Grade, "1.5 ", 1),
            (Of::Stet, "over the break because the seconds ", 1),
            (Of::Performance, "2024-05-12 \"Seventh", 1),
            (Of::Performance, "2024-05-12 \"Seventh Grade Band\", took ", 2),
            (Of::People, "Tam Lindqvist, arr. ", 1),
        ];
        for (of, words, wanted) in table {
            assert_eq!(active(shape(of), words), Some(wanted), "{of:?} {words:?}");
        }
        let rows = [
            (RowsOf::Percussion, "sna", 0),
            (RowsOf::Percussion, "snare           ", 1),
            (RowsOf::Percussion, "snare           5-20, ", 2),
        ];
        for (of, words, wanted) in rows {
            assert_eq!(active(row_shape(of), words), Some(wanted), "{of:?} {words:?}");
        }
    }
}
