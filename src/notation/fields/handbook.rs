//! Fields of the handbook.

use super::super::of::Of;
use super::{FieldSpec, Shape};

pub(super) static FIELDS: &[FieldSpec] = &[
    FieldSpec {
        name: "notation",
        also: &[],
        shape: Shape::Value(Of::Number),
        says: "The version of the notation that the catalog is written in.",
        example: "1",
    },
    FieldSpec {
        name: "for",
        also: &[],
        shape: Shape::List(Of::Title),
        says: "The ensemble that a piece is judged for when no concert lists it.",
        example: "\"Seventh Grade Band\"",
    },
    FieldSpec {
        name: "follows",
        also: &["chart"],
        shape: Shape::Value(Of::Words),
        says: "The published chart of school ranges, and its grade, for sections whose range no band gives: publisher's grades, contest selection, German definitions, six notes, all-state scale, or from memory.",
        example: "contest selection, grade 1",
    },
    FieldSpec {
        name: "players",
        also: &[],
        shape: Shape::List(Of::Staffing),
        says: "How many players a part should have, and which parts of a section get the extra ones (extra players on the upper parts; else the lower).",
        example: "at least 2 to a wind part",
    },
    FieldSpec {
        name: "parts",
        also: &["usual parts"],
        shape: Shape::List(Of::PartName),
        says: "The parts that a piece usually has; a piece whose card says the usual parts has these.",
        example: "flute, oboe, clarinet 1, clarinet 2",
    },
    FieldSpec {
        name: "owns",
        also: &["closet"],
        shape: Shape::List(Of::Equipment),
        says: "The percussion instruments that all bands of the school share.",
        example: "bells, chimes, timpani 29 and 26",
    },
    FieldSpec {
        name: "change",
        also: &["changes"],
        shape: Shape::List(Of::Change),
        says: "How long a percussionist needs from one instrument to the next.",
        example: "5 s to a neighboring percussion instrument, 10 s to the timpani",
    },
    FieldSpec {
        name: "one player",
        also: &[],
        shape: Shape::List(Of::Together),
        says: "Percussion instruments that one player can cover together.",
        example: "triangle and wood block",
    },
    FieldSpec {
        name: "largest file",
        also: &[],
        shape: Shape::Value(Of::Size),
        says: "The size above which a file is not read, in MB.",
        example: "2 MB",
    },
    FieldSpec {
        name: "error",
        also: &[],
        shape: Shape::List(Of::Phrase),
        says: "Findings to be shown as errors.",
        example: "title not found",
    },
    FieldSpec {
        name: "warning",
        also: &[],
        shape: Shape::List(Of::Phrase),
        says: "Findings to be shown as warnings.",
        example: "signature against center",
    },
    FieldSpec {
        name: "information",
        also: &["info"],
        shape: Shape::List(Of::Phrase),
        says: "Findings to be shown as information.",
        example: "over the break",
    },
    FieldSpec {
        name: "hint",
        also: &[],
        shape: Shape::List(Of::Phrase),
        says: "Findings to be shown as hints.",
        example: "open question",
    },
    FieldSpec {
        name: "stet",
        also: &[],
        shape: Shape::List(Of::Stet),
        says: "Findings to be let stand in the whole catalog, and why.",
        example: "open question because the scores are at school",
    },
    FieldSpec {
        name: "see",
        also: &[],
        shape: Shape::Running,
        says: "Where more is written.",
        example: "the binder in the office",
    },
    FieldSpec {
        name: "notes",
        also: &["note"],
        shape: Shape::Running,
        says: "Anything else.",
        example: "Kept by both directors, in turn.",
    },
];
