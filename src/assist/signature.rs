//! The shape of a field's value, shown while it is written.

use crate::notation::Of;
use crate::notation::fields::{FieldSpec, RowsOf, Shape, fields_of};
use crate::text::Span;

use super::Place;
use super::line::{Here, here};

/// One stretch of the shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slot {
    /// Where it stands in the shape's own words, in bytes.
    pub span: Span,
    /// What goes there.
    pub says: &'static str,
}

/// The shape of a value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// The field and its shape: `tempo  beat = number at place, ...`.
    pub label: String,
    /// Its stretches.
    pub slots: Vec<Slot>,
    /// The one that the cursor is at; none behind the last.
    pub active: Option<usize>,
    /// What the field says, with an example.
    pub says: String,
}

/// How a stretch begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Begins {
    /// With the item.
    First,
    /// With the next word, or behind these words.
    Behind(&'static str),
    /// Behind two blanks or a comma: the facts of a row.
    Facts,
    /// With the next item.
    Again,
}

type Shaped = &'static [(&'static str, Begins, &'static str)];

use Begins::{Again, Behind, Facts, First};

const AT: (&str, Begins, &str) = (
    "at place",
    Behind(" at "),
    "From there on: a measure, a mark, trio, coda.",
);
const CHANGES: (&str, Begins, &str) = ("...", Again, "The next value on the way, after a comma.");
const MORE: (&str, Begins, &str) = ("...", Again, "More of them, after a comma.");

fn shape(of: Of) -> Shaped {
    match of {
        Of::Words | Of::Condition => &[("words", First, "In your own words."), MORE],
        Of::Needs => &[
            (
                "players",
                First,
                "Such as 4-5 percussionists, 4 minimum, or a strong trumpet.",
            ),
            MORE,
        ],
        Of::Season => &[("school year", First, "Such as 2026-27.")],
        Of::Meets => &[
            (
                "days or minutes",
                First,
                "Such as Tuesday and Thursday, 45 minutes, or not Dec 21-Jan 3.",
            ),
            MORE,
        ],
        Of::Pickup => &[("beats or notes", First, "Such as 1 beat, 3 eighths, or none.")],
        Of::Takes => &[("weeks or rehearsals", First, "Such as 2 weeks, or 3 rehearsals.")],
        Of::Loan => &[
            ("day, to whom", First, "Such as 2026-05-01 to the high school."),
            MORE,
        ],
        Of::License => &[
            (
                "what is allowed",
                First,
                "Such as 30 printed copies, may stream, or no recording.",
            ),
            MORE,
        ],
        Of::Bought => &[(
            "day and seller",
            First,
            "Such as 2024-03-02 from Rivermark Editions.",
        )],
        Of::Track => &[
            (
                "length, start, operator",
                First,
                "Such as 4:00, starts at 1, or operator P6.",
            ),
            MORE,
        ],
        Of::Events => &[("number of events", First, "Such as 14 cued.")],
        Of::Change => &[
            ("seconds and for what", First, "Such as 10 s to the timpani."),
            MORE,
        ],
        Of::Staffing => &[
            ("players to a part", First, "Such as at least 2 to a wind part."),
            MORE,
        ],
        Of::Absent => &[("seat or players", First, "Such as P3, or 1 tuba."), MORE],
        Of::ConcertLength => &[
            ("length", First, "Such as 20 minutes, or 1:30 between pieces."),
            MORE,
        ],
        Of::Together => &[("instruments", First, "Such as triangle and wood block."), MORE],
        Of::PartNumbers => &[("part numbers", First, "Such as parts 1, 3 and 5.")],
        Of::Size => &[("size", First, "Such as 2 MB.")],
        Of::YesNo => &[("yes or no", First, "Yes, or no.")],
        Of::Year => &[("year", First, "Such as 2026.")],
        Of::PartName => &[("instrument", First, "Such as oboe, or clarinet 2."), MORE],
        Of::Family => &[("family", First, "Such as low brass, or accessories.")],
        Of::Clef => &[("clef", First, "Such as treble clef.")],
        Of::Sounds => &[("interval", First, "Such as a major sixth lower.")],
        Of::Title => &[
            ("\"name\"", First, "The name of a card in quotation marks."),
            MORE,
        ],
        Of::Number => &[("number", First, "A whole number.")],
        Of::Key => &[
            ("key", First, "A concert key, such as G minor or D dorian."),
            AT,
            CHANGES,
        ],
        Of::Signature => &[
            (
                "flats or sharps",
                First,
                "Such as 2 flats, 1 sharp or none; concert.",
            ),
            AT,
            CHANGES,
        ],
        Of::Meter => &[("meter", First, "Such as 4/4, 6/8, cut or none."), AT, CHANGES],
        Of::Tempo => &[
            (
                "beat",
                First,
                "The note that is counted, a tempo term, slower or faster.",
            ),
            ("= number", Behind("="), "How many in a minute: 76, 60-66."),
            AT,
            CHANGES,
        ],
        Of::Lasts => &[("minutes:seconds", First, "Such as 3:10, or 20 minutes.")],
        Of::Moment => &[
            ("year-month-day", First, "The day, such as 2026-12-10."),
            (
                ", hour:minutes",
                Behind(","),
                "The hour, where it matters: 19:00.",
            ),
        ],
        Of::Money => &[
            ("amount", First, "The sum."),
            ("currency", Behind(" "), "Such as USD."),
        ],
        Of::Grade => &[
            ("number", First, "Such as 1.5."),
            (
                "who says so",
                Behind(" "),
                "publisher, ours, or a list in quotation marks.",
            ),
            MORE,
        ],
        Of::Mark => &[
            ("mark", First, "The letter or number, or trio, coda."),
            ("measure", Behind(" "), "The measure it stands at."),
            MORE,
        ],
        Of::Road => &[
            (
                "step",
                First,
                "repeat 33-40, segno at 9, to coda at 32, D.S. al Coda at 80.",
            ),
            MORE,
        ],
        Of::Range => &[(
            "lowest-highest",
            First,
            "Two written pitches, such as A3-C5; C4 is middle C.",
        )],
        Of::InstrumentRange => &[
            ("instrument", First, "The section."),
            (
                "lowest-highest",
                Behind(" "),
                "Two written pitches, such as Bb3-D5.",
            ),
            MORE,
        ],
        Of::Equipment => &[
            (
                "instrument",
                First,
                "An instrument, perhaps with sizes: timpani 29 and 26.",
            ),
            MORE,
        ],
        Of::Skill => &[
            ("skill", First, "What is to be known."),
            (
                "by year-month-day",
                Behind(" by "),
                "The day by which it is taught.",
            ),
            MORE,
        ],
        Of::Phrase => &[("phrase of a finding", First, "As the finding is called."), MORE],
        Of::Stet => &[
            ("phrase of a finding", First, "As the finding is called."),
            (
                "because reason",
                Behind(" because "),
                "Why it may stand, to the end of the paragraph.",
            ),
        ],
        Of::People => &[
            ("composer", First, "Who wrote it; two are joined by and."),
            (
                ", arr. arranger",
                Behind(","),
                "Who arranged it (arr.), transcribed it (trans.), edited it (ed.).",
            ),
        ],
        Of::Copies => &[
            ("number", First, "How many."),
            ("part", Behind(" "), "Of which part."),
            MORE,
        ],
        Of::Performance => &[
            ("year-month-day", First, "The day."),
            ("\"band\"", Behind("\""), "Who played it."),
            (
                ", took 6 weeks, result I I II",
                Behind(","),
                "How long it took, and what the judges said.",
            ),
        ],
        Of::Held | Of::Listed => &[
            ("\"name\"", First, "The name in quotation marks."),
            ("grade number", Behind(" grade "), "Its grade there."),
            MORE,
        ],
    }
}

fn row_shape(of: RowsOf) -> Shaped {
    match of {
        RowsOf::Parts => &[
            (
                "instrument and part number",
                First,
                "Such as clarinet 2, or flute 1-2.",
            ),
            ("lowest-highest", Facts, "The written range, such as A3-C5."),
            (
                ", over the break, solo 5-12, same as flute 1",
                Again,
                "What else it asks, and what it shares.",
            ),
        ],
        RowsOf::Percussion => &[
            ("instrument", First, "Such as snare, or advanced snare."),
            ("measures", Facts, "Where it plays: 5-20, 49-80, or throughout."),
            (
                ", same as flute 1, instead of snare",
                Again,
                "How it stands to other parts.",
            ),
        ],
        RowsOf::Players => &[
            ("instrument", First, "The section."),
            ("how many", Facts, "Its players."),
            (", 4 over the break", Again, "What some of them can do."),
        ],
        RowsOf::Percussionists => &[
            ("seats", First, "P1, or initials; never full names."),
            ("what they play", Facts, "mallets, timpani, snare, accessories."),
            MORE,
        ],
        RowsOf::Program => &[("\"title\"", First, "A piece, in the order of playing.")],
        RowsOf::Pages => &[
            ("page", First, "As it is printed: percussion 1, mallets."),
            ("instruments", Facts, "What stands on it."),
            MORE,
        ],
        RowsOf::Movements => &[
            ("number", First, "The movement's number."),
            ("title", Behind(" "), "Its title; its own lines hang below."),
        ],
        RowsOf::Seats => &[
            (
                "instrument",
                First,
                "Who sits in this row, from one side to the other.",
            ),
            MORE,
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
    for (number, (name, _, says)) in shaped.iter().enumerate() {
        if number > 0 {
            let joined = name.starts_with(',') || *name == "...";
            label.push_str(if *name == "..." {
                ", "
            } else if joined {
                ""
            } else {
                " "
            });
        }
        let start = Span::whole(&label).end;
        label.push_str(name);
        slots.push(Slot {
            span: Span::new(start, Span::whole(&label).end),
            says,
        });
    }
    Some(Signature {
        active: active(shaped, words),
        label,
        slots,
        says: spec.map_or_else(String::new, told),
    })
}

fn told(spec: &FieldSpec) -> String {
    match spec.example.is_empty() {
        true => spec.says.to_owned(),
        false => format!("{} For example: {}", spec.says, spec.example),
    }
}

/// The stretch that is being written: the last one that has begun in the item before the cursor.
fn active(shaped: Shaped, words: &str) -> Option<usize> {
    let gap = words.trim_start().find("  ").is_some();
    let has_comma_slot = shaped.iter().any(|(_, begins, _)| matches!(begins, Behind(",")));
    let is_row = shaped.iter().any(|(_, begins, _)| *begins == Facts);
    // In a list each comma begins anew; in a row or a value with commas of its own it does not.
    let item = match has_comma_slot || is_row {
        true => words,
        false => words.rsplit(',').next().unwrap_or(words),
    };
    let item = item.trim_start();
    let mut found = None;
    let mut from = 0;
    for (number, (_, begins, _)) in shaped.iter().enumerate() {
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
