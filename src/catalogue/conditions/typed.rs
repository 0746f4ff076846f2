//! Conditions as four kinds of directors type them, how each is understood, and which line of a card decides it.

use std::sync::Arc;

use super::*;
use crate::catalogue::{CardFile, Snapshot};

const OTHERS: &str = "\
handbook
  notation 1
criteria \"county\"
  calls for up to 2 flats, at most 3 percussionists
skill \"rocking slurs\"
  also rockers
skill \"triplet figures\"
  also triplet hops
ensemble \"Band\"
  taught quarter notes
list \"Rivers\"
  holds \"Lamp\" grade 2
piece \"Other\"
  by Tam Lindqvist
";

const PIECE: &str = "\
piece \"Lamp\"
  by Odile Marchetti
  publisher Rivermark Editions, item RE-114, 2019
  grade 1 publisher
  style lyrical, programmatic
  tonal center G minor, Bb major at 33
  key signature 2 flats
  meter 4/4, 3/4 at 20-21
  tempo quarter = 72, quarter = 132 at 33
  measures 80
  lasts 4:10
  parts
    flute   D5-C6
    oboe    D4-A5, solo 5-12
    clarinet 1  A3-C5
    clarinet 2  A3-A4
    trumpet  C4-D5
    tuba    Bb1-Bb2
  percussion
    snare  1-80
    bells  1-80
    timpani  9-80
    triangle 9-12
  needs 3 percussionists
  asks slurs, memorized music
  teaches ties, lyrical playing
  techniques muted trumpets, thin texture
  features trumpet section
  suits a young horn section, a strong tuba section
  liked the seventh graders
  price 62 USD
  performed 2024-05-12 \"Band\", took 6 weeks, result II superior, went well
  learned Teach the change of tempo first.
  movements
    1. Dawn
    2. Noon
    3. Dusk
  library
    copies 3 scores
    place cabinet 3
";

/// Who typed it, what was typed, its one form, and the line that decides it (`other card` where none on
/// this one does).
#[rustfmt::skip]
const TYPED: &[(&str, &str, &str, &str)] = &[
    ("neat", "grade 1-2", "grade 1-2", "grade"),
    ("neat", "grade at most 2", "up to grade 2", "grade"),
    ("neat", "no harder than 2", "up to grade 2", "grade"),
    ("neat", "a march", "a march", "style"),
    ("neat", "no marches", "not a march", "style"),
    ("neat", "two marches", "2 marches", "style"),
    ("neat", "1 slow piece", "1 slow piece", "tempo"),
    ("neat", "something slow", "a slow piece", "tempo"),
    ("neat", "slow", "slow", "tempo"),
    ("neat", "fast", "fast", "tempo"),
    ("neat", "lyrical", "lyrical", "style"),
    ("neat", "at least 2 keys", "at least 2 keys", "tonal center"),
    ("neat", "no sharps", "no sharps", "key signature"),
    ("neat", "up to 3 flats", "up to 3 flats", "key signature"),
    ("neat", "at most 3 flats", "up to 3 flats", "key signature"),
    ("neat", "in 3/4", "3/4", "meter"),
    ("neat", "triple meter", "triple meter", "meter"),
    ("neat", "changes meter", "meter changes", "meter"),
    ("neat", "changes key", "key changes", "tonal center"),
    ("neat", "key change", "key changes", "tonal center"),
    ("neat", "signature changes", "key signature changes", "key signature"),
    ("neat", "tempo changes", "tempo changes", "tempo"),
    ("neat", "under 4 minutes", "at most 3:59", "lasts"),
    ("neat", "between 3 and 5 minutes", "between 3 and 5 minutes", "lasts"),
    ("neat", "longer than 3:00", "at least 3:01", "lasts"),
    ("neat", "at most 5 percussionists", "at most 5 percussionists", "percussion"),
    ("neat", "no timpani", "no timpani", "percussion"),
    ("neat", "needs mallets", "has mallets", "percussion"),
    ("neat", "uses bells", "has bells", "percussion"),
    ("neat", "clarinets under the break", "clarinet never over the break", "parts"),
    ("neat", "clarinet 2 never over the break", "clarinet 2 never over the break", "parts"),
    ("neat", "every range at most an octave and a third", "every range at most an octave and a third", "parts"),
    ("neat", "no trumpet above D5", "trumpet up to D5", "parts"),
    ("neat", "trumpet up to D5", "trumpet up to D5", "parts"),
    ("neat", "asks triplets", "asks triplets", "asks"),
    ("neat", "teaches slurs", "teaches slurs", "teaches"),
    ("neat", "asks nothing new", "asks nothing new", "asks"),
    ("neat", "by Lindqvist", "by Lindqvist", "by"),
    ("neat", "published by Rivermark", "from Rivermark", "publisher"),
    ("neat", "after 2015", "published since 2016", "publisher"),
    ("neat", "not performed since 2023", "not performed since 2023", "performed"),
    ("neat", "never performed", "not performed", "performed"),
    ("neat", "performed last year", "performed last year", "performed"),
    ("neat", "owned", "owned", "library"),
    ("neat", "we own it", "owned", "library"),
    ("neat", "in the library", "owned", "library"),
    ("neat", "under $70", "costs at most 69.99 USD", "price"),
    ("neat", "costs at most 60 USD", "costs at most 60 USD", "price"),
    ("neat", "on \"Larch County list\"", "from \"Larch County list\"", "other card"),
    ("neat", "liked by the seventh graders", "liked by the seventh graders", "liked"),
    ("neat", "suits a young horn section", "suits a young horn section", "suits"),
    ("neat", "features trumpet", "features trumpet", "features"),
    ("neat", "techniques muted trumpets", "techniques muted trumpets", "techniques"),
    ("neat", "texture thin", "texture thin", "techniques"),
    ("neat", "strong tuba section", "strong tuba section", "suits"),
    ("neat", "went well", "went well", "performed"),
    ("neat", "original scores", "original scores", "library"),
    ("neat", "memorized", "memorized", "asks"),
    ("neat", "no solos", "no solo", "parts"),
    ("neat", "a flute solo", "a flute solo", "parts"),
    ("neat", "tempo slow", "slow", "tempo"),
    ("neat", "contrast", "slow and fast", "tempo"),
    ("neat", "at most 20 minutes in all", "at most 20 minutes in all", "lasts"),
    ("neat", "a march or a waltz", "a march or a waltz", "style"),
    ("neat", "not performed in the last 3 years", "not performed in the last 3 years", "performed"),
    ("neat", "grade 2 on \"Rivers\"", "grade 2 on \"Rivers\"", "other card"),
    ("neat", "published since 2019", "published since 2019", "publisher"),
    ("neat", "tempo at most 120", "tempo at most 120", "tempo"),
    ("neat", "up to 3 flats or 1 sharp", "up to 3 flats or up to 1 sharp", "key signature"),
    ("neat", "\"county\"", "\"county\"", "other card"),
    ("hasty", "max 3 flats", "up to 3 flats", "key signature"),
    ("hasty", "max 5 perc", "at most 5 percussionists", "percussion"),
    ("hasty", "4 min or less", "at most 4 minutes", "lasts"),
    ("hasty", "3-5 min", "between 3 and 5 minutes", "lasts"),
    ("hasty", "grade 2 or easier", "up to grade 2", "grade"),
    ("hasty", "grade 2+", "at least grade 2", "grade"),
    ("hasty", "level 2", "grade 2", "other card"),
    ("hasty", "2 marches", "2 marches", "style"),
    ("hasty", "1 lyrical", "1 lyrical piece", "style"),
    ("hasty", "some jazz", "a jazz piece", "style"),
    ("hasty", "timpani", "has timpani", "percussion"),
    ("hasty", "mallets", "has mallets", "percussion"),
    ("hasty", "no timp", "no timp", "percussion"),
    ("hasty", "oboe solo", "has oboe solo", "parts"),
    ("hasty", "solo for oboe", "has oboe solo", "parts"),
    ("hasty", "clar 2 under the break", "clar 2 never over the break", "parts"),
    ("hasty", "tpt up to D5", "tpt up to D5", "parts"),
    ("hasty", "flute D4-C6", "flute D4-C6", "parts"),
    ("hasty", "q = 60-80", "tempo between 60 and 80", "tempo"),
    ("hasty", "3/4 only", "only 3/4", "meter"),
    ("hasty", "all in Bb", "in Bb major", "tonal center"),
    ("hasty", "G minor", "in G minor", "tonal center"),
    ("hasty", "minor", "in minor", "tonal center"),
    ("hasty", "played since 2024", "performed since 2024", "performed"),
    ("hasty", "not played in 3 years", "not performed in the last 3 years", "performed"),
    ("hasty", "under 70 dollars", "costs at most 69.99 USD", "price"),
    ("hasty", "on the list", "from the list", "other card"),
    ("hasty", "80 bars max", "at most 80 measures", "measures"),
    ("hasty", "slow and fast", "slow and fast", "tempo"),
    ("hasty", "3 keys", "at least 3 keys", "tonal center"),
    ("texting", "we need 2 marches", "2 marches", "style"),
    ("texting", "nothing fast", "not fast", "tempo"),
    ("texting", "no more than 5 perc players", "at most 5 percussionists", "percussion"),
    ("texting", "it's slow", "slow", "tempo"),
    ("texting", "4min tops", "at most 4 minutes", "lasts"),
    ("texting", "3flats max", "up to 3 flats", "key signature"),
    ("texting", "<= 3 flats", "up to 3 flats", "key signature"),
    ("texting", "< 4 min", "at most 3:59", "lasts"),
    ("texting", "$70 max", "costs at most 70 USD", "price"),
    ("texting", "we own", "owned", "library"),
    ("texting", "not played yet", "not performed", "performed"),
    ("texting", "never played", "not performed", "performed"),
    ("texting", "i want something slow", "a slow piece", "tempo"),
    ("texting", "no solos & no timpani", "no solo, no timpani", "parts"),
    ("texting", "clarinets don't cross the break", "clarinet never over the break", "parts"),
    ("texting", "no one over the break", "clarinet never over the break", "parts"),
    ("texting", "a slow one and a fast one", "a slow piece, a fast piece", "tempo"),
    ("texting", "asks rockers", "asks rockers", "asks"),
    ("texting", "teaches lyrical playing", "teaches lyrical playing", "teaches"),
    ("texting", "with muted trumpets", "techniques muted trumpets", "techniques"),
    ("texting", "good for a young horn section", "suits a young horn section", "suits"),
    ("texting", "everything under grade 2", "up to grade 1.99", "grade"),
    ("texting", "all pieces under 4 min", "at most 3:59", "lasts"),
    ("texting", "no timpani or chimes", "no timpani or chimes", "percussion"),
    ("texting", "march", "march", "style"),
    ("British", "no harder than grade 2", "up to grade 2", "grade"),
    ("British", "at most 80 bars", "at most 80 measures", "measures"),
    ("British", "crotchet = 72", "tempo 72", "tempo"),
    ("British", "triple time", "triple meter", "meter"),
    ("British", "changes of metre", "meter changes", "meter"),
    ("British", "in compound time", "compound meter", "meter"),
    ("British", "under £60", "costs at most 59.99 GBP", "other card"),
    ("British", "not played since 2023", "not performed since 2023", "performed"),
    ("British", "up to three flats", "up to 3 flats", "key signature"),
    ("British", "no more than five percussionists", "at most 5 percussionists", "percussion"),
    ("British", "by Odile Marchetti", "by Odile Marchetti", "by"),
    ("British", "two different composers", "at least 2 composers", "by"),
    ("British", "has a tuba", "has tuba", "parts"),
    ("British", "a trumpet solo", "a trumpet solo", "parts"),
    ("British", "tempo Adagio", "tempo Adagio", "tempo"),
    ("British", "a set of original scores", "original scores", "library"),
    ("British", "played from memory", "memorized", "asks"),
    ("British", "published before 2020", "published before 2020", "publisher"),
    ("British", "no range wider than an octave", "every range at most an octave", "parts"),
    ("British", "nothing missing", "complete", "library"),
    ("British", "at least two metres", "at least 2 meters", "meter"),
    ("British", "between two and four minutes", "between 2 and 4 minutes", "lasts"),
    ("hasty", "asks rocking slurs", "asks rocking slurs", "asks"),
    ("British", "teaches slurs or ties", "teaches slurs or teaches ties", "teaches"),
    ("texting", "played this year", "performed this year", "performed"),
    ("neat", "no harder than grade 1.5", "up to grade 1.5", "grade"),
    ("British", "programmatic or a march", "programmatic or a march", "style"),
    ("hasty", "6/8", "6/8", "meter"),
    ("neat", "cheaper than $65", "costs at most 64.99 USD", "price"),
    ("texting", "has 3 original scores", "at least 3 original scores", "library"),
    ("neat", "every part up to 3 sharps", "every part up to 3 sharps", "key signature"),
    ("hasty", "trumpet in no sharps", "trumpet no sharps", "key signature"),
    ("neat", "written signatures no flats", "every part no flats", "key signature"),
    ("neat", "at most 2 new skills", "at most 2 new skills", "asks"),
    ("texting", "no more than one skill to teach", "at most 1 new skill", "asks"),
    ("neat", "up to grade 2 by our criteria", "up to grade 2 by our criteria", "other card"),
    ("neat", "covered by our band", "covered", "other card"),
    ("hasty", "enough percussionists", "percussion covered", "other card"),
    ("neat", "winds covered", "winds covered", "other card"),
    ("neat", "3 movements or more", "at least 3 movements", "movements"),
    ("hasty", "4 percussion parts", "4 percussion parts", "percussion"),
    ("neat", "took at most 6 weeks", "took at most 6 weeks", "performed"),
    ("texting", "takes 6 weeks tops to learn", "took at most 6 weeks", "performed"),
    ("neat", "rated superior", "result superior", "performed"),
    ("hasty", "result II", "result II", "performed"),
    ("neat", "went badly", "went badly", "performed"),
    ("texting", "rushed", "rushed", "performed"),
    ("neat", "last performed before 2025", "last performed before 2025", "performed"),
    ("British", "last played in 2024", "last performed in 2024", "performed"),
    ("neat", "on loan", "lent", "library"),
    ("neat", "learned says \"tempo\"", "learned says \"tempo\"", "learned"),
    ("hasty", "its place says \"cabinet 3\"", "place says \"cabinet 3\"", "library"),
    ("neat", "the card mentions \"seventh graders\"", "says \"seventh graders\"", "liked"),
    ("neat", "tempo known", "tempo known", "tempo"),
    ("British", "grade not known", "grade unknown", "grade"),
];

fn catalogue(piece: &str) -> Snapshot {
    let file = Arc::new(CardFile::read("a.levare", &format!("{OTHERS}{piece}")));
    Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
}

fn forms(snapshot: &Snapshot, text: &str) -> String {
    let all: Vec<String> = read(snapshot, text).iter().map(ToString::to_string).collect();
    all.join(", ")
}

#[test]
fn what_directors_type_is_understood() {
    let snapshot = catalogue(PIECE);
    for who in ["neat", "hasty", "texting", "British"] {
        assert!(TYPED.iter().filter(|row| row.0 == who).count() >= 20, "{who}");
    }
    for (who, written, form, _) in TYPED {
        assert_eq!(unheard(&snapshot, written), [], "{who}: {written}");
        assert_eq!(forms(&snapshot, written), *form, "{who}: {written}");
        assert_eq!(forms(&snapshot, form), *form, "as recopied, {written}");
    }
}

/// The card without one of its fields.
fn without(field: &str) -> String {
    let mut kept = String::new();
    let mut inside = false;
    for line in PIECE.lines() {
        if line.starts_with("  ") && !line.starts_with("   ") {
            inside = line.trim().starts_with(field);
        }
        if !inside {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    assert_ne!(kept, PIECE, "{field}");
    kept
}

fn answers(snapshot: &Snapshot, written: &str) -> Vec<Truth> {
    let evaluator = Evaluator::new(snapshot);
    let id = snapshot.pieces_titled("Lamp", None)[0];
    let subject = Subject::of(id, snapshot.entry(id).expect("it is there")).expect("a piece");
    read(snapshot, written)
        .iter()
        .map(|one| evaluator.piece(one, &subject))
        .collect()
}

#[test]
fn the_line_of_the_card_decides() {
    let full = catalogue(PIECE);
    let mut wrong = Vec::new();
    for (_, written, _, fact) in TYPED {
        if *fact == "other card" {
            continue;
        }
        let less = catalogue(&without(fact));
        let (now, then) = (answers(&full, written), answers(&less, written));
        if now == then {
            wrong.push(format!("{written} is not decided by {fact}: {now:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The places between the words of a text, those inside quotes left out.
fn gaps(text: &str) -> Vec<usize> {
    let mut quoted = false;
    let mut found = vec![0];
    for (at, c) in text.char_indices() {
        quoted ^= c == '"';
        if c == ' ' && !quoted {
            found.push(at + 1);
        }
    }
    found
}

#[test]
fn a_made_up_word_is_told_at_that_word() {
    let snapshot = catalogue(PIECE);
    let mut planted = 0;
    let mut lost = Vec::new();
    for (_, written, ..) in TYPED {
        for word in ["zqxv", "Wibbleton", "77x"] {
            let mut texts: Vec<(String, usize)> = gaps(written)
                .into_iter()
                .map(|at| (format!("{}{word} {}", &written[..at], &written[at..]), at))
                .collect();
            texts.push((format!("{written} {word}"), written.len() + 1));
            for (text, at) in texts {
                let told = unheard(&snapshot, &text);
                let is = |(span, _): &(crate::text::Span, Expected)| {
                    span.slice(&text) == word && span.start as usize == at
                };
                if !told.iter().any(is) {
                    lost.push(text.clone());
                }
                planted += 1;
            }
        }
    }
    assert!(lost.is_empty() && planted > 1000, "{lost:#?}");
}

#[test]
fn the_other_conditions_stay_understood() {
    let snapshot = catalogue(PIECE);
    let text = "a march, at least zqxv 2 keys, slow or zqxv, no timpani and zqxv bells";
    let all = read(&snapshot, text);
    let heard: Vec<bool> = all.iter().map(Condition::is_heard).collect();
    assert_eq!(heard, [true, false, false, true, false], "{all:?}");
    let Term::Any(sides) = &all[2].term else {
        panic!("{:?}", all[2])
    };
    assert!(sides[0].is_heard() && !sides[1].is_heard());
    let answers = answers(&snapshot, "slow or zqxv, fast zqxv, not fast zqxv");
    assert!(matches!(answers[0], Truth::Yes(_)));
    assert!(matches!(answers[1], Truth::Unknown(_)), "{answers:?}");
    assert!(matches!(answers[2], Truth::Unknown(_)), "{answers:?}");
}

#[test]
fn a_skill_is_found_by_each_of_its_names() {
    let piece = PIECE.replace("asks slurs", "asks rocking slurs, triplet hops");
    let snapshot = catalogue(&piece);
    for written in [
        "asks rockers",
        "asks rocking slurs",
        "asks triplet figures",
        "asks triplet hops",
    ] {
        assert!(answers(&snapshot, written)[0].is_yes(), "{written}");
    }
    assert!(answers(&snapshot, "asks syncopation")[0].is_no());
}

#[test]
fn long_conditions_are_bounded() {
    let snapshot = catalogue(PIECE);
    let nots = format!("{}slow", "not ".repeat(16_000));
    let all = read(&snapshot, &nots);
    assert!(all.len() == 1 && all[0].is_heard(), "an even number of nots");
    for word in [
        "a ",
        "no a ",
        "at most ",
        "slow or ",
        "slow and ",
        "between 2 and ",
        "\"x\" ",
    ] {
        let _ = unheard(&snapshot, &word.repeat(16_000));
    }
}
