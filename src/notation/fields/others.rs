//! Fields of concerts, criteria, bundles, lists, skills and instruments.

use super::super::of::Of;
use super::{FieldSpec, RowsOf, Shape};

/// A field with no other names, to keep the short tables below readable.
const fn field(name: &'static str, shape: Shape, says: &'static str, example: &'static str) -> FieldSpec {
    FieldSpec {
        name,
        also: &[],
        shape,
        says,
        example,
    }
}

const SEE: FieldSpec = field(
    "see",
    Shape::Running,
    "Where more is written.",
    "the programs of past years",
);
const NOTES: FieldSpec = FieldSpec {
    also: &["note"],
    ..field(
        "notes",
        Shape::Running,
        "Anything else.",
        "Doors open at half past six.",
    )
};
const STET: FieldSpec = field(
    "stet",
    Shape::List(Of::Stet),
    "A finding to be let stand on this card, and why.",
    "card nobody uses because it is for next year",
);
const URL_NOTE: FieldSpec = field(
    "from",
    Shape::Value(Of::Words),
    "Who sells or publishes it.",
    "Rivermark Editions",
);

pub(super) static CONCERT: &[FieldSpec] = &[
    FieldSpec {
        also: &["date", "when"],
        ..field(
            "on",
            Shape::Value(Of::Moment),
            "The day, and the hour if it is known.",
            "2026-12-10, 19:00",
        )
    },
    field("at", Shape::Value(Of::Words), "The place.", "the cafeteria"),
    FieldSpec {
        also: &["room", "floor"],
        ..field(
            "stage",
            Shape::Value(Of::Words),
            "The floor on which the band sits, and what has to be seen to there.",
            "no risers, 40 chairs at most",
        )
    },
    FieldSpec {
        also: &["ensemble", "ensembles", "bands"],
        ..field(
            "for",
            Shape::List(Of::Title),
            "The ensembles that play.",
            "\"Seventh Grade Band\"",
        )
    },
    FieldSpec {
        also: &["minutes", "lasts"],
        ..field(
            "length",
            Shape::List(Of::ConcertLength),
            "How long it may be, what lies between the pieces, and how much of it one band has (10 minutes for \"Sixth Grade Band\").",
            "20 minutes, 1:30 between pieces",
        )
    },
    FieldSpec {
        also: &["set-up", "set up"],
        ..field(
            "setup",
            Shape::Value(Of::Lasts),
            "How long the stage takes to set.",
            "10:00",
        )
    },
    FieldSpec {
        also: &["programme", "pieces"],
        ..field(
            "program",
            Shape::Rows(RowsOf::Program),
            "The pieces in the order they are played.",
            "\"Lanterns on the Weir\"",
        )
    },
    field(
        "calls for",
        Shape::List(Of::Condition),
        "What the program must have.",
        "a march, at least 2 keys, at most 5 percussionists",
    ),
    FieldSpec {
        also: &["new things"],
        ..field(
            "new skills",
            Shape::Value(Of::NewSkills),
            "How many skills that a band has not been taught the program may ask of it in all.",
            "at most 2",
        )
    },
    field(
        "budget",
        Shape::Value(Of::Money),
        "What may be spent on it.",
        "200 USD",
    ),
    FieldSpec {
        also: &["assignments", "who plays what"],
        ..field(
            "assigned",
            Shape::List(Of::Pin),
            "Who is to play which percussion part, who is not, who plays nothing, who is never together, and who has at most so much; it goes before all else.",
            "P3 on snare, P2 not on bass drum",
        )
    },
    field(
        "absent",
        Shape::List(Of::Absent),
        "Who will not be there, by seat or instrument.",
        "P3, 1 tuba",
    ),
    FieldSpec {
        also: &["borrows"],
        ..field(
            "borrowed",
            Shape::List(Of::Equipment),
            "Percussion instruments to be had for the evening.",
            "chimes from the high school",
        )
    },
    FieldSpec {
        also: &["livestream", "live stream", "stream", "streaming", "broadcast"],
        ..field(
            "streamed",
            Shape::Value(Of::Done),
            "Whether it is shown over the net.",
            "yes",
        )
    },
    FieldSpec {
        also: &["recording", "video", "filmed"],
        ..field(
            "recorded",
            Shape::Value(Of::Done),
            "Whether a recording is made.",
            "yes",
        )
    },
    FieldSpec {
        also: &["adjudicators", "scores for judges"],
        ..field(
            "judges",
            Shape::Value(Of::Number),
            "How many judges are to have a score of each piece.",
            "3",
        )
    },
    field(
        "learned",
        Shape::Running,
        "What the evening taught.",
        "Start with the older band.",
    ),
    STET,
    SEE,
    NOTES,
];

pub(super) static CRITERIA: &[FieldSpec] = &[
    field(
        "calls for",
        Shape::List(Of::Condition),
        "What a piece must meet.",
        "up to 3 flats, clarinet 2 never over the break",
    ),
    field(
        "grade",
        Shape::List(Of::Grade),
        "The grade that the criteria stand for.",
        "1",
    ),
    STET,
    SEE,
    NOTES,
];

pub(super) static BUNDLE: &[FieldSpec] = &[
    URL_NOTE,
    field(
        "item",
        Shape::Value(Of::Words),
        "The seller's number for it.",
        "RP-20",
    ),
    field("price", Shape::Value(Of::Price), "What it costs.", "110 USD"),
    FieldSpec {
        also: &["pieces", "contains"],
        ..field(
            "holds",
            Shape::List(Of::Held),
            "The pieces in it.",
            "\"Harbor Parade\", \"Lanterns on the Weir\"",
        )
    },
    STET,
    SEE,
    NOTES,
];

pub(super) static LIST: &[FieldSpec] = &[
    field("year", Shape::Value(Of::Year), "The year of the list.", "2026"),
    URL_NOTE,
    FieldSpec {
        also: &["pieces", "contains"],
        ..field(
            "holds",
            Shape::List(Of::Held),
            "The pieces on it, each with its grade there.",
            "\"Lanterns on the Weir\" grade 1.5",
        )
    },
    field(
        "calls for",
        Shape::List(Of::Condition),
        "What a program drawn from it must have.",
        "2 pieces from the list",
    ),
    STET,
    SEE,
    NOTES,
];

pub(super) static SKILL: &[FieldSpec] = &[
    field(
        "also",
        Shape::List(Of::Words),
        "Other words for it.",
        "dotted rhythm",
    ),
    field(
        "after",
        Shape::List(Of::Skill),
        "What must be taught before it.",
        "single eighths, ties",
    ),
    field(
        "takes",
        Shape::Value(Of::Takes),
        "How long it takes to teach.",
        "2 weeks",
    ),
    STET,
    SEE,
    NOTES,
];

pub(super) static INSTRUMENT: &[FieldSpec] = &[
    field(
        "also",
        Shape::List(Of::Words),
        "Other names and abbreviations.",
        "Eb horn",
    ),
    field(
        "family",
        Shape::Value(Of::Family),
        "The section it sits with.",
        "low brass",
    ),
    field(
        "sounds",
        Shape::Value(Of::Sounds),
        "How far from the written pitch it sounds.",
        "a major sixth lower",
    ),
    field(
        "range",
        Shape::Value(Of::Range),
        "Its whole range, written pitch.",
        "A3-G5",
    ),
    field(
        "reads",
        Shape::Value(Of::Clef),
        "The clef it reads.",
        "treble clef",
    ),
    field(
        "sticks",
        Shape::List(Of::Words),
        "The sticks or mallets it is played with.",
        "yarn mallets",
    ),
    STET,
    SEE,
    NOTES,
];
