//! Those whom a concert is played to, where it says them instead of a band: `parents & 5th graders`.

use super::cursor::{Cursor, single};

/// Those who come to listen and play in no band (common practice, no source).
const LISTENERS: [&str; 34] = [
    "parents",
    "the parents",
    "our parents",
    "families",
    "the families",
    "family",
    "friends",
    "grandparents",
    "the grandparents",
    "the community",
    "community",
    "the public",
    "the neighborhood",
    "the school board",
    "school board",
    "the board",
    "the pta",
    "donors",
    "the boosters",
    "the whole school",
    "the residents",
    "residents",
    "the nursing home",
    "shoppers",
    "veterans",
    "teachers",
    "the teachers",
    "elementary kids",
    "elementary students",
    "the elementary kids",
    "the feeder schools",
    "future band students",
    "future band kids",
    "an audience",
];

/// Groups who may as well play, so that only others beside them tell that they listen.
const EITHER: [&str; 10] = [
    "4th graders",
    "fourth graders",
    "5th graders",
    "fifth graders",
    "6th graders",
    "sixth graders",
    "the 4th graders",
    "the 5th graders",
    "the fifth graders",
    "kindergarten",
];

/// Why they are there.
const WHY: [&str; 6] = [
    "we r recruiting",
    "we are recruiting",
    "we're recruiting",
    "we want to recruit",
    "we hope to recruit",
    "who may join",
];

/// The listeners in the director's words, where every word is one of theirs and some surely play nothing.
pub fn read(text: &str) -> Option<String> {
    let whole = single(text);
    let lower = whole.to_lowercase();
    let mut surely = false;
    for who in lower.split(['&', '+', '/']).flat_map(|who| who.split(" and ")) {
        let mut words = Cursor::new(who);
        if words.any(&LISTENERS) {
            surely = true;
        } else if !words.any(&EITHER) {
            return None;
        }
        words.any(&WHY);
        words.done().then_some(())?;
    }
    surely.then_some(whole)
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn listeners_are_no_band() {
        for (written, heard) in [
            ("parents & 5th graders we r recruiting", true),
            ("parents", true),
            ("families and the school board", true),
            ("5th graders", false),
            ("parents zqxv", false),
            ("zqxv parents", false),
            ("parents & zqxv", false),
            ("parents & 5th graders we r zqxv", false),
        ] {
            assert_eq!(read(written).is_some(), heard, "{written}");
        }
    }
}
