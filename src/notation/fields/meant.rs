//! Directors' words for lines that a card calls by another name, in American and British use.
//!
//! Such a word is no second name: what stands behind it is often something else than the line holds, so it is
//! told with the right line, and the director decides.

use super::super::kind::Kind;
use super::starts_with_words;

/// A director's word and the line that is meant by it.
#[derive(Debug, PartialEq, Eq)]
pub struct Meant {
    /// The word, or several.
    pub word: &'static str,
    /// The line that is meant.
    pub field: &'static str,
}

const fn row(word: &'static str, field: &'static str) -> Meant {
    Meant { word, field }
}

/// On a piece.
const PIECE: &[Meant] = &[
    row("arr", "by"),
    row("arr.", "by"),
    row("arranger", "by"),
    row("arranged by", "by"),
    row("author", "by"),
    row("writer", "by"),
    row("orchestrated by", "by"),
    row("accidentals", "asks"),
    row("articulation", "asks"),
    row("articulations", "asks"),
    row("background", "subject"),
    row("bass part", "parts"),
    row("brass", "parts"),
    row("woodwinds", "parts"),
    row("low brass", "parts"),
    row("low voices", "parts"),
    row("low reeds", "parts"),
    row("high brass", "parts"),
    row("divisi", "parts"),
    row("split", "parts"),
    row("splits", "parts"),
    row("doublings", "parts"),
    row("doubling", "parts"),
    row("instrumentation", "parts"),
    row("scoring", "parts"),
    row("scored for", "parts"),
    row("voicing", "parts"),
    row("ranges", "parts"),
    row("range", "parts"),
    row("solos", "parts"),
    row("solo", "parts"),
    row("optional parts", "parts"),
    row("melody", "notes"),
    row("independence", "notes"),
    row("texture", "notes"),
    row("entrances", "asks"),
    row("fermatas", "asks"),
    row("fermata", "asks"),
    row("rhythms", "asks"),
    row("rhythm", "asks"),
    row("syncopation", "asks"),
    row("dynamics", "asks"),
    row("skills", "asks"),
    row("skill", "asks"),
    row("prerequisites", "asks"),
    row("difficulties", "asks"),
    row("challenges", "asks"),
    row("key changes", "tonal center"),
    row("keys", "tonal center"),
    row("home key", "tonal center"),
    row("tempo changes", "tempo"),
    row("speed changes", "tempo"),
    row("metronome", "tempo"),
    row("meter changes", "meter"),
    row("metre changes", "meter"),
    row("time changes", "meter"),
    row("concepts", "teaches"),
    row("objectives", "teaches"),
    row("standards", "teaches"),
    row("goals", "teaches"),
    row("good for teaching", "teaches"),
    row("extended techniques", "techniques"),
    row("special effects", "techniques"),
    row("sound effects", "techniques"),
    row("mutes", "techniques"),
    row("extras", "includes"),
    row("extra", "includes"),
    row("comes with", "includes"),
    row("supplements", "includes"),
    row("collection", "includes"),
    row("from", "notes"),
    row("series", "publisher"),
    row("edition", "publisher"),
    row("catalog number", "publisher"),
    row("catalogue number", "publisher"),
    row("item number", "publisher"),
    row("copyright", "publisher"),
    row("favorite", "liked"),
    row("favourite", "liked"),
    row("favorites", "liked"),
    row("loved by", "liked"),
    row("disliked by", "notes"),
    row("disliked", "notes"),
    row("hated", "notes"),
    row("difficulty", "grade"),
    row("exam grade", "grade"),
    row("mood", "style"),
    row("category", "style"),
    row("character", "style"),
    row("kind", "style"),
    row("players", "needs"),
    row("percussionists", "needs"),
    row("percussion players", "needs"),
    row("playable with", "needs"),
    row("playable by", "needs"),
    row("minimum", "needs"),
    row("personnel", "needs"),
    row("equipment", "percussion"),
    row("percussion parts", "percussion"),
    row("drums", "percussion"),
    row("mallets", "percussion"),
    row("timpani", "percussion"),
    row("auxiliary", "percussion"),
    row("kit", "percussion"),
    row("runtime", "lasts"),
    row("run time", "lasts"),
    row("time needed", "lasts"),
    row("structure", "form"),
    row("sections", "form"),
    row("cut", "roadmap"),
    row("cut time", "meter"),
    row("cuts", "roadmap"),
    row("endings", "roadmap"),
    row("repeat", "roadmap"),
    row("coda", "roadmap"),
    row("rehearsal numbers", "rehearsal marks"),
    row("figures", "rehearsal marks"),
    row("mm", "measures"),
    row("mm", "tempo"),
    row("landmarks", "rehearsal marks"),
    row("in", "notes"),
    row("tip", "notes"),
    row("tips", "notes"),
    row("advice", "notes"),
    row("concerns", "notes"),
    row("problems", "notes"),
    row("trouble spots", "notes"),
    row("review", "see"),
    row("article", "see"),
    row("discussed", "listed"),
    row("discussed in", "listed"),
    row("prescribed list", "listed"),
    row("contest list", "listed"),
    row("similar", "see"),
    row("similar to", "see"),
    row("like", "see"),
    row("link", "score"),
    row("audio", "score"),
    row("video", "score"),
    row("sample", "score"),
    row("history", "performed"),
    row("concerts", "performed"),
    row("rating", "performed"),
    row("ratings", "performed"),
    row("programmed", "performed"),
    row("sight-read", "rehearsed"),
    row("condition", "library"),
    row("location", "library"),
    row("cabinet", "library"),
    row("folder", "library"),
    row("cupboard", "library"),
    row("copies", "library"),
    row("missing", "library"),
    row("lent", "library"),
    row("license", "library"),
    row("licence", "library"),
    row("backing track", "track"),
    row("tape", "track"),
    row("audience", "suits"),
    row("best for", "suits"),
    row("occasion", "suits"),
    row("season", "suits"),
];

/// On an ensemble.
const ENSEMBLE: &[Meant] = &[
    row("cupboard", "owns"),
    row("instruments", "owns"),
    row("gear", "owns"),
    row("has", "owns"),
    row("shared", "owns"),
    row("missing", "without"),
    row("roster", "players"),
    row("personnel", "players"),
    row("members", "players"),
    row("numbers", "players"),
    row("instrumentation", "players"),
    row("drummers", "percussionists"),
    row("percussion", "percussionists"),
    row("schedule", "meets"),
    row("rehearsals", "meets"),
    row("days off", "meets"),
    row("holidays", "meets"),
    row("term", "season"),
    row("skills", "taught"),
    row("working on", "introduced"),
    row("learning", "introduced"),
    row("scales", "keys"),
    row("seats", "rows"),
    row("chart", "rows"),
    row("director", "notes"),
    row("conductor", "notes"),
    row("grade", "notes"),
    row("level", "notes"),
];

/// On a concert.
const CONCERT: &[Meant] = &[
    row("venue", "at"),
    row("place", "at"),
    row("location", "at"),
    row("where", "at"),
    row("hall", "at"),
    row("time", "on"),
    row("day", "on"),
    row("doors", "on"),
    row("call time", "notes"),
    row("dress", "notes"),
    row("theme", "notes"),
    row("intermission", "length"),
    row("interval", "length"),
    row("music", "program"),
    row("repertoire", "program"),
    row("order", "program"),
    row("opener", "program"),
    row("closer", "program"),
    row("encore", "program"),
    row("max", "length"),
    row("needs", "calls for"),
    row("requirements", "calls for"),
    row("rules", "calls for"),
    row("missing", "absent"),
    row("without", "absent"),
    row("away", "absent"),
    row("out", "absent"),
    row("cost", "budget"),
    row("spend", "budget"),
    row("loans", "borrowed"),
];

/// In the library of a piece.
const LIBRARY: &[Meant] = &[
    row("location", "place"),
    row("cabinet", "place"),
    row("cab", "place"),
    row("cab.", "place"),
    row("drawer", "place"),
    row("folder", "place"),
    row("filed", "place"),
    row("parts", "copies"),
    row("scores", "copies"),
    row("original scores", "copies"),
    row("need", "missing"),
    row("short", "missing"),
    row("loan", "lent"),
    row("loaned to", "lent"),
    row("out", "lent"),
    row("licence", "license"),
    row("permission", "license"),
    row("permissions", "license"),
    row("streaming", "license"),
    row("may stream", "license"),
    row("may record", "license"),
    row("no streaming", "license"),
    row("no recording", "license"),
    row("ordered", "bought"),
    row("counted", "notes"),
    row("checked", "notes"),
    row("shared", "notes"),
];

/// On the handbook.
const HANDBOOK: &[Meant] = &[
    row("cupboard", "owns"),
    row("instruments", "owns"),
    row("equipment", "owns"),
    row("usual", "parts"),
    row("instrumentation", "parts"),
    row("changeover", "change"),
    row("changeovers", "change"),
    row("covers", "one player"),
    row("ranges", "follows"),
    row("school", "notes"),
    row("directors", "notes"),
];

/// On a bundle or a list.
const HOLDING: &[Meant] = &[
    row("includes", "holds"),
    row("titles", "holds"),
    row("list", "holds"),
    row("cost", "price"),
    row("publisher", "from"),
    row("seller", "from"),
    row("number", "item"),
    row("season", "year"),
    row("rules", "calls for"),
];

/// Words of a line that look like a shorter name with a value behind it, and are not: `key changes 2` says no
/// key.
pub(super) const NO_FIELDS: [&str; 14] = [
    "key changes",
    "key change",
    "tempo changes",
    "tempo change",
    "meter changes",
    "metre changes",
    "meter change",
    "time changes",
    "time change",
    "speed changes",
    "style period",
    "parts missing",
    "score order",
    "price range",
];

/// The lines that a director's words at the start of a text may mean on a card of this kind; in a library where
/// `library` says so. The longest words win.
pub fn meant(kind: Kind, library: bool, line: &str) -> Vec<&'static Meant> {
    let table = match (kind, library) {
        (Kind::Piece, true) => LIBRARY,
        (Kind::Piece, false) => PIECE,
        (Kind::Ensemble, _) => ENSEMBLE,
        (Kind::Concert, _) => CONCERT,
        (Kind::Handbook, _) => HANDBOOK,
        (Kind::Bundle | Kind::List, _) => HOLDING,
        (Kind::Criteria | Kind::Skill | Kind::Instrument, _) => &[],
    };
    let mut found: Vec<&Meant> = table
        .iter()
        .filter(|meant| starts_with_words(line, meant.word).is_some())
        .collect();
    let longest = found.iter().map(|meant| meant.word.len()).max();
    found.retain(|meant| Some(meant.word.len()) == longest);
    found
}

#[cfg(test)]
mod tests {
    use super::super::{fields_of, find, named};
    use super::*;

    #[test]
    fn every_word_means_a_line_that_the_card_has_and_is_none_itself() {
        let tables = [
            (Kind::Piece, PIECE),
            (Kind::Ensemble, ENSEMBLE),
            (Kind::Concert, CONCERT),
            (Kind::Handbook, HANDBOOK),
        ];
        for (kind, table) in tables {
            let fields = fields_of(kind);
            for meant in table {
                assert!(named(fields, meant.field).is_some(), "{kind}: {}", meant.field);
                let own = named(fields, meant.word);
                assert!(own.is_none(), "{kind}: {} is a line of its own", meant.word);
            }
        }
    }

    #[test]
    fn the_longest_words_win() {
        let field = |line: &str| {
            let found = meant(Kind::Piece, false, line).into_iter();
            found.map(|meant| meant.field).collect::<Vec<_>>().join(" or ")
        };
        assert_eq!(field("percussion players 6"), "needs");
        assert_eq!(field("low brass easy"), "parts");
        assert_eq!(field("favourite of the trumpets"), "liked");
        assert_eq!(field("mm 92"), "measures or tempo");
        assert_eq!(field("zqxv"), "");
        let fields = fields_of(Kind::Piece);
        assert!(find(fields, "key changes 2").is_none());
        assert!(find(fields, "tempo changes yes").is_none());
        assert_eq!(
            find(fields, "key G minor").map(|(spec, _)| spec.name),
            Some("tonal center")
        );
    }
}
