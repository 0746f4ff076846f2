//! What a value is of: the vocabulary that the table of fields uses.

/// What one item of a field is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// Words, read as written.
    Words,
    /// The quoted name of another card.
    Title,
    /// A whole number.
    Number,
    /// A concert key.
    Key,
    /// A concert key signature.
    Signature,
    /// A meter.
    Meter,
    /// A tempo.
    Tempo,
    /// A length of time.
    Lasts,
    /// A day, or a day and an hour.
    Moment,
    /// A sum of money.
    Money,
    /// A grade, and who gives it.
    Grade,
    /// A mark and the measure it stands at.
    Mark,
    /// A step of the roadmap.
    Road,
    /// A range of written pitches.
    Range,
    /// An instrument and the range it plays.
    InstrumentRange,
    /// An instrument that is owned or borrowed.
    Equipment,
    /// A skill, perhaps with the day by which it is taught.
    Skill,
    /// A condition that a piece or program must meet.
    Condition,
    /// The phrase of a finding.
    Phrase,
    /// The phrase of a finding, `because`, and a reason to the end of the paragraph.
    Stet,
    /// People, with what they did.
    People,
    /// Copies of a part.
    Copies,
    /// A number of players, or another need.
    Needs,
    /// A performance: the day, the band, how it went.
    Performance,
    /// A piece in a bundle or on a list, with its grade there.
    Held,
    /// A list or book in which the piece stands, with its grade there.
    Listed,
}

impl Of {
    /// What is expected, in words a director knows, to end a sentence that starts "Levare expected".
    pub fn expected(self) -> &'static str {
        match self {
            Of::Words | Of::Skill | Of::Needs | Of::People | Of::Condition => "words",
            Of::Title => "the name of a card in quotation marks, such as \"Harbor Parade\"",
            Of::Number => "a whole number, such as 88",
            Of::Key => "a concert key, such as G minor or D dorian",
            Of::Signature => "a concert key signature, such as 2 flats, 1 sharp or none",
            Of::Meter => "a meter, such as 4/4, 6/8, cut or none",
            Of::Tempo => "a tempo, such as quarter = 76, 152, Andante or slower",
            Of::Lasts => "a length of time, such as 3:10 or 20 minutes",
            Of::Moment => "a day, such as 2026-12-10, perhaps with the hour: 2026-12-10, 19:00",
            Of::Money => "a price, such as 62 USD",
            Of::Grade => "a grade and who gives it, such as 1.5 publisher or 2 ours",
            Of::Mark => "a mark and its measure, such as A 9 or coda 81",
            Of::Road => "a step of the road, such as repeat 33-40, segno at 9 or D.S. al Coda at 80",
            Of::Range => "two written pitches, such as A3-C5 (C4 is middle C)",
            Of::InstrumentRange => "an instrument and its range, such as trumpet Bb3-D5",
            Of::Equipment => "an instrument, such as bells or timpani 29 and 26",
            Of::Phrase => "the phrase of a finding, such as over the break",
            Of::Stet => {
                "the phrase of a finding and a reason: over the break because the seconds are eighth graders"
            }
            Of::Copies => "copies of a part, such as 8 flute 1",
            Of::Performance => "a day and a band, such as 2024-05-12 \"Seventh Grade Band\"",
            Of::Held => {
                "a title in quotation marks, perhaps with its grade there: \"Harbor Parade\" grade 1.5"
            }
            Of::Listed => {
                "a list in quotation marks, perhaps with the grade there: \"Thrum Hollow list\" grade 2"
            }
        }
    }

    /// The same in a word or two, for the manual's table.
    pub fn short(self) -> &'static str {
        match self {
            Of::Words => "words",
            Of::Title => "quoted name",
            Of::Number => "number",
            Of::Key => "key",
            Of::Signature => "key signature",
            Of::Meter => "meter",
            Of::Tempo => "tempo",
            Of::Lasts => "length of time",
            Of::Moment => "day and hour",
            Of::Money => "money",
            Of::Grade => "grade",
            Of::Mark => "mark and measure",
            Of::Road => "step of the road",
            Of::Range => "range",
            Of::InstrumentRange => "instrument and range",
            Of::Equipment => "instrument owned",
            Of::Skill => "skill",
            Of::Condition => "condition",
            Of::Phrase => "phrase of a finding",
            Of::Stet => "phrase and reason",
            Of::People => "people",
            Of::Copies => "copies of a part",
            Of::Needs => "number of players",
            Of::Performance => "performance",
            Of::Held => "title and grade",
            Of::Listed => "list and grade",
        }
    }

    /// Whether all of the text to the end of the paragraph is one item, commas and all.
    pub fn takes_paragraph(self) -> bool {
        self == Of::Stet
    }
}
