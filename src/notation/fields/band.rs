//! Fields of an ensemble.

use super::super::of::Of;
use super::{FieldSpec, RowsOf, Shape};

pub(super) static FIELDS: &[FieldSpec] = &[
    FieldSpec {
        name: "season",
        also: &["year", "school year"],
        shape: Shape::List(Of::Season),
        says: "The school year that the card is about.",
        example: "2026-27",
    },
    FieldSpec {
        name: "meets",
        also: &["rehearses"],
        shape: Shape::List(Of::Meets),
        says: "When the band rehearses, for how long, and when it does not.",
        example: "every other day, 45 minutes, not 2026-11-23 to 2026-11-27",
    },
    FieldSpec {
        name: "players",
        also: &["winds"],
        shape: Shape::Rows(RowsOf::Players),
        says: "Head counts by instrument, with what some of them can do.",
        example: "flute 9, clarinet 12",
    },
    FieldSpec {
        name: "without",
        also: &["lacks"],
        shape: Shape::List(Of::PartName),
        says: "Instruments that the band does not have this year.",
        example: "oboe, bassoon",
    },
    FieldSpec {
        name: "percussionists",
        also: &["percussion players"],
        shape: Shape::Rows(RowsOf::Percussionists),
        says: "The percussionists by seat or initials (never full names) and what each plays; or their number.",
        example: "6",
    },
    FieldSpec {
        name: "assigned",
        also: &["assignments", "who plays what"],
        shape: Shape::List(Of::Pin),
        says: "Who is always to play which percussion part, who is not, who is never together, and who has at most so much; it goes before all else.",
        example: "P3 on snare, P1 and P4 never together",
    },
    FieldSpec {
        name: "owns",
        also: &["equipment", "own"],
        shape: Shape::List(Of::Equipment),
        says: "The percussion instruments in the room.",
        example: "bells, snare, bass drum, timpani 29 and 26",
    },
    FieldSpec {
        name: "borrowed",
        also: &["borrows"],
        shape: Shape::List(Of::Equipment),
        says: "The percussion instruments that can be had for a concert.",
        example: "chimes from the high school",
    },
    FieldSpec {
        name: "ranges",
        also: &["range"],
        shape: Shape::List(Of::InstrumentRange),
        says: "What each section plays with ease, written pitch.",
        example: "flute D5-C6, trumpet Bb3-D5",
    },
    FieldSpec {
        name: "keys",
        also: &["keys taught"],
        shape: Shape::List(Of::KeyTaught),
        says: "The concert keys the band has been taught, or how many flats and sharps it reads.",
        example: "Bb major, Eb major, G minor",
    },
    FieldSpec {
        name: "taught",
        also: &["knows"],
        shape: Shape::List(Of::Skill),
        says: "The skills the band has been taught, or will have been by a day.",
        example: "quarter notes, eighth pairs, slurs by 2026-10-01",
    },
    FieldSpec {
        name: "introduced",
        also: &[],
        shape: Shape::List(Of::Skill),
        says: "The skills the band has met but does not own yet.",
        example: "dotted quarter-eighth",
    },
    FieldSpec {
        name: "rows",
        also: &["seating"],
        shape: Shape::Rows(RowsOf::Seats),
        says: "Who sits in which row, from the podium outward.",
        example: "flute, oboe, clarinet 1",
    },
    FieldSpec {
        name: "stet",
        also: &[],
        shape: Shape::List(Of::Stet),
        says: "A finding to be let stand on this card, and why.",
        example: "card nobody uses because the band starts in the spring",
    },
    FieldSpec {
        name: "see",
        also: &[],
        shape: Shape::Running,
        says: "Where more is written.",
        example: "the seating chart in the office",
    },
    FieldSpec {
        name: "notes",
        also: &["note"],
        shape: Shape::Running,
        says: "Anything else.",
        example: "Two of the trumpets would like to try horn.",
    },
];
