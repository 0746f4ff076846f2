//! Fields of a piece.

use super::super::of::Of;
use super::{FieldSpec, RowsOf, Shape};

const fn field(name: &'static str, also: &'static [&'static str], shape: Shape, says: &'static str, example: &'static str) -> FieldSpec {
    FieldSpec {
        name,
        also,
        shape,
        says,
        example,
    }
}

const LIBRARY: &[FieldSpec] = &[
    field("place", &["shelf", "box"], Shape::Value(Of::Words), "Where the set is.", "cabinet 3, no. 142"),
    field("copies", &["has"], Shape::List(Of::Copies), "How many copies of each part there are.", "1 score, 8 flute 1, 4 clarinet 1"),
    field("missing", &["lost"], Shape::List(Of::Copies), "The parts that are missing.", "tuba"),
    field("lent", &["loaned"], Shape::List(Of::Words), "When it was lent, to whom, and when it is due.", "2026-05-01 to the high school, due 2026-09-01"),
    field("bought", &["purchased"], Shape::List(Of::Words), "When and where it was bought.", "2024-03-02 from Rivermark Editions"),
    field("price", &["cost", "paid"], Shape::Value(Of::Money), "What it costs or cost.", "62 USD"),
    field("license", &["licensed", "prints"], Shape::List(Of::Words), "What the license lets the school print, and until when.", "30 printed copies until 2028-06-30"),
    field("condition", &[], Shape::Value(Of::Words), "What state the set is in.", "good, two folders torn"),
];

pub(super) const FIELDS: &[FieldSpec] = &[
    field("by", &["composer", "written by", "music by"], Shape::List(Of::People), "Who wrote it, arranged it, transcribed it.", "Tam Lindqvist and R. Abara, arr. Nell Farrow"),
    field("publisher", &["published by", "pub."], Shape::List(Of::Words), "Who publishes it, the item number, the year.", "Rivermark Editions, item RE-114, 2019"),
    field("grade", &["level"], Shape::List(Of::Grade), "How hard it is, and who says so.", "1 publisher, 1.5 \"Three Rivers list\", 2 ours"),
    field("style", &["type", "genre"], Shape::List(Of::Words), "What sort of piece it is.", "lyrical, programmatic"),
    field("tonal center", &["key", "center", "tonality"], Shape::Value(Of::Key), "The concert key it is heard in.", "G minor, Bb major at 33, G minor at 73"),
    field("key signature", &["signature", "key sig", "keysig", "key sig."], Shape::Value(Of::Signature), "The concert key signature.", "2 flats, 3 flats at trio"),
    field("meter", &["time signature", "time", "metre"], Shape::Value(Of::Meter), "The meter.", "4/4, 3/4 at 20-21, 4/4 at 22"),
    field("tempo", &["speed"], Shape::Value(Of::Tempo), "The tempo.", "quarter = 76, quarter = 144 at 33"),
    field("measures", &["bars", "length in measures"], Shape::Value(Of::Number), "How many measures are printed.", "88"),
    field("pickup", &["upbeat", "pick-up", "anacrusis"], Shape::Value(Of::Words), "What sounds before the first full measure.", "1 beat"),
    field("lasts", &["duration", "length", "timing"], Shape::Value(Of::Lasts), "How long it lasts.", "5:05"),
    field("rehearsal marks", &["marks", "rehearsal letters", "letters"], Shape::List(Of::Mark), "Marks and the measures they stand at.", "A 9, B 33, coda 81"),
    field("roadmap", &["road map", "road", "repeats"], Shape::List(Of::Road), "Repeats, endings, jumps.", "repeat 33-40, segno at 9, to coda at 32, D.S. al Coda at 80"),
    field("form", &[], Shape::List(Of::Words), "How it is built.", "introduction, two strains, trio"),
    field("movements", &["mvts", "movts"], Shape::Rows(RowsOf::Movements), "Its movements, each with fields of its own below it.", "1 Morning, 2 Evening"),
    field("tunes", &["medley", "medley of"], Shape::List(Of::Words), "The tunes of a medley, and where they start.", "the ferry song at 1, the mill song at 41"),
    field("parts", &["winds"], Shape::Rows(RowsOf::Parts), "Its wind parts and what they ask.", "flute 1-2, clarinet 1-2, trumpet 1-3"),
    field("complete with", &[], Shape::List(Of::Words), "For flexible parts: the parts that must be covered.", "parts 1, 3 and 5"),
    field("percussion", &["perc", "perc."], Shape::Rows(RowsOf::Percussion), "Its percussion parts, and where they play.", "snare 1-88, bass drum 1-88"),
    field("pages", &["printed pages", "books"], Shape::Rows(RowsOf::Pages), "The printed pages and the instruments on each.", "percussion 1"),
    field("needs", &[], Shape::List(Of::Needs), "How many players or what else it takes.", "5-6 percussionists, 4 minimum"),
    field("asks", &["requires"], Shape::List(Of::Skill), "What it asks players to know.", "dotted quarter-eighth, D.S. al Coda"),
    field("teaches", &[], Shape::List(Of::Skill), "What it is good for teaching.", "lyrical playing, tempo changes"),
    field("techniques", &["effects"], Shape::List(Of::Words), "Extended techniques.", "muted trumpets, hand claps"),
    field("features", &["showcases"], Shape::List(Of::Words), "Who is shown off.", "trumpet section"),
    field("track", &["electronics", "electronic track"], Shape::List(Of::Words), "A recorded track: its length, where it starts, who runs it.", "4:00, starts at 1, operator P6"),
    field("events", &["cues"], Shape::List(Of::Words), "What happens on cue where there are no measures.", "14 cued"),
    field("includes", &[], Shape::List(Of::Words), "What comes with it.", "warm-ups, background notes"),
    field("subject", &["about", "story"], Shape::Running, "What it is about.", "a road and its weather"),
    field("suits", &["good for"], Shape::List(Of::Words), "Whom it suits.", "a young horn section"),
    field("liked", &["liked by"], Shape::List(Of::Words), "Who liked it.", "the seventh graders"),
    field("listed", &["lists", "listed in"], Shape::List(Of::Listed), "Where it is listed or discussed, with the grade there.", "\"Three Rivers list\" grade 1.5"),
    field("score", &["recording"], Shape::List(Of::Words), "A file with the score, or where to hear it.", "scores/lanterns.musicxml"),
    field("price", &["cost"], Shape::Value(Of::Money), "What it costs.", "about 60 USD"),
    field("wanted", &["want"], Shape::List(Of::Words), "Why or when it is wanted.", "for the spring festival"),
    field("library", &[], Shape::Block(LIBRARY), "Where the set is and what is in it.", ""),
    field("performed", &["played"], Shape::List(Of::Performance), "When and by whom it was performed, and how it went.", "2024-05-12 \"Seventh Grade Band\", took 6 weeks, result I I II"),
    field("rehearsed", &["read"], Shape::List(Of::Words), "When it was rehearsed without a performance, and why.", "2024-02, never performed because of snow days"),
    field("learned", &["lessons"], Shape::Running, "What playing it taught.", "Teach the tempo change before reading the notes."),
    field("stet", &[], Shape::List(Of::Stet), "A finding to be let stand, and why.", "over the break because the seconds are eighth graders this year"),
    field("see", &[], Shape::Running, "Where more is written.", "method book line 41 (the same tune)"),
    field("notes", &["note", "comments"], Shape::Running, "Anything else.", "The melody reaches every section, so it can be rehearsed in unison first."),
];
