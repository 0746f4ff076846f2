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
    /// Measures, as they are printed or as they are played.
    Measures,
    /// A concert key.
    Key,
    /// A concert key that a band has been taught, or how many flats and sharps it reads.
    KeyTaught,
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
    /// What something costs and cost, and what a part of it costs.
    Price,
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
    /// A school year.
    Season,
    /// When a band rehearses.
    Meets,
    /// What sounds before the first full measure.
    Pickup,
    /// How long something takes to teach.
    Takes,
    /// What is said of a loan.
    Loan,
    /// What a license allows.
    License,
    /// When and where something was bought.
    Bought,
    /// What is said of a recorded track.
    Track,
    /// Cued events.
    Events,
    /// How long a percussionist needs for something.
    Change,
    /// How many players a part should have.
    Staffing,
    /// How fast a band is taught.
    Pace,
    /// What sending an order costs.
    Postage,
    /// Who will not be there.
    Absent,
    /// Who of a band is away on some day.
    Away,
    /// Who is to play what, or not.
    Pin,
    /// How long a concert may be.
    ConcertLength,
    /// How many new skills at most.
    NewSkills,
    /// Instruments that one player covers.
    Together,
    /// Numbers of parts.
    PartNumbers,
    /// A size of a file.
    Size,
    /// Yes or no.
    YesNo,
    /// Whether something is done, and by whom.
    Done,
    /// A year.
    Year,
    /// An instrument or part.
    PartName,
    /// A family of instruments.
    Family,
    /// A clef.
    Clef,
    /// How far from the written pitch an instrument sounds.
    Sounds,
}

impl Of {
    /// What is expected, in words a director knows, to end a sentence that starts "Levare expected".
    pub fn expected(self) -> &'static str {
        match self {
            Of::Skill => "a skill, perhaps with the day by which it is taught: slurs by 2026-10-01",
            Of::Words | Of::People | Of::Condition => "words",
            Of::Needs => "players, such as 4-5 percussionists, 4 minimum or a strong trumpet",
            Of::Title => "the name of a card in quotation marks, such as \"Harbor Parade\"",
            Of::Number => "a whole number, such as 88",
            Of::Measures => "a number of measures, such as 88 or 96 with repeats",
            Of::Key => "a concert key, such as G minor or D dorian",
            Of::KeyTaught => "a concert key, such as G minor, or signatures up to 2 flats",
            Of::Signature => "a concert key signature, such as 2 flats, 1 sharp or none",
            Of::Meter => "a meter, such as 4/4, 6/8, cut or none",
            Of::Tempo => "a tempo, such as quarter = 76, 152, Andante or slower",
            Of::Lasts => "a length of time, such as 3:10 or 20 minutes",
            Of::Moment => "a day, such as 2026-12-10, perhaps with the hour: 2026-12-10, 19:00",
            Of::Money => "a price, such as 62 USD, 100-110 USD or free",
            Of::Price => "a price, such as 62 USD, extra parts 3 USD each, was 55 USD or bought 2024 for $40",
            Of::Grade => "a grade and who gives it, such as 1.5 publisher, 2 ours or 2 \"Thrum Hollow list\"",
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
            Of::Season => "a school year, such as 2026-27",
            Of::Meets => {
                "when the band meets, such as every other day, 45 minutes or not 2026-11-23 to 2026-11-27"
            }
            Of::Pickup => "beats or notes, such as 1 beat, 3 eighths or none",
            Of::Takes => "weeks or rehearsals, such as 2 weeks",
            Of::Loan => "a day and to whom, such as 2026-05-01 to the high school, or due 2026-09-01",
            Of::License => {
                "what is allowed, such as 30 printed copies until 2028-06-30, may stream or no recording"
            }
            Of::Bought => "a day and where, such as 2024-03-02 from Rivermark Editions",
            Of::Track => "its length, starts at 1, operator P6 or click track",
            Of::Events => "a number of cued events, such as 14 cued",
            Of::Change => "seconds and for what, such as 10 s to the timpani",
            Of::Staffing => "players to a part, such as at least 2 to a wind part",
            Of::Pace => "how fast you teach, such as at most 2 new skills a week or 6 weeks to a piece",
            Of::Postage => {
                "what an order costs to send, such as 8 USD or 6 USD free over 75 USD from Rivermark Editions"
            }
            Of::Absent => "a seat or players, such as P3 or 1 tuba",
            Of::Away => "a seat or players and a day, such as 2 flutes on 2026-10-22",
            Of::Pin => {
                "who plays what, such as P3 on snare, P2 not on bass drum, without P5, P1 and P4 never together or P2 at most 2 parts"
            }
            Of::ConcertLength => "a length, such as 20 minutes or 1:30 between pieces",
            Of::NewSkills => "a number of skills, such as at most 2",
            Of::Together => "two instruments, such as triangle and wood block",
            Of::PartNumbers => "numbers of parts, such as parts 1, 3 and 5",
            Of::Size => "a size, such as 2 MB",
            Of::YesNo => "yes or no",
            Of::Done => "yes or no, perhaps with by whom: yes, by the parents",
            Of::Year => "a year, such as 2026",
            Of::PartName => "an instrument, such as oboe",
            Of::Family => "a family, such as low brass or accessories",
            Of::Clef => "a clef, such as treble clef",
            Of::Sounds => "an interval, such as a major sixth lower",
        }
    }

    /// The same in a word or two, for the manual's table.
    pub fn short(self) -> &'static str {
        match self {
            Of::Words => "words",
            Of::Title => "quoted name",
            Of::Number => "number",
            Of::Measures => "number of measures",
            Of::Key => "key",
            Of::KeyTaught => "key or signatures",
            Of::Signature => "key signature",
            Of::Meter => "meter",
            Of::Tempo => "tempo",
            Of::Lasts => "length of time",
            Of::Moment => "day and hour",
            Of::Money => "money",
            Of::Price => "price",
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
            Of::Season => "school year",
            Of::Meets => "days of rehearsal",
            Of::Pickup => "beats or notes",
            Of::Takes => "weeks or rehearsals",
            Of::Loan => "loan",
            Of::License => "what is allowed",
            Of::Bought => "day and seller",
            Of::Track => "length, start, operator",
            Of::Events => "number of events",
            Of::Change => "seconds and for what",
            Of::Staffing => "players to a part",
            Of::Pace => "pace of teaching",
            Of::Postage => "postage",
            Of::Absent => "seat or players",
            Of::Away => "players and a day",
            Of::Pin => "player and part",
            Of::ConcertLength => "length of time",
            Of::NewSkills => "number of skills",
            Of::Together => "instruments",
            Of::PartNumbers => "part numbers",
            Of::Size => "size",
            Of::YesNo => "yes or no",
            Of::Done => "yes or no, by whom",
            Of::Year => "year",
            Of::PartName => "instrument",
            Of::Family => "family",
            Of::Clef => "clef",
            Of::Sounds => "interval",
        }
    }

    /// Whether the words are the director's own: any will do, and none is told.
    pub fn is_own_words(self) -> bool {
        matches!(self, Of::Words | Of::People | Of::Skill)
    }

    /// Whether any words will do, because they are the director's own, or because names and phrases are
    /// looked up where all cards are known.
    pub fn is_free(self) -> bool {
        matches!(
            self,
            Of::Words | Of::People | Of::Phrase | Of::Stet | Of::Condition
        )
    }

    /// Whether all of the text to the end of the paragraph is one item, commas and all.
    pub fn takes_paragraph(self) -> bool {
        self == Of::Stet
    }
}
