//! Tests of the condition language.

use std::sync::Arc;

use super::*;
use crate::catalogue::{CardFile, Snapshot};

pub(super) fn shelf() -> Snapshot {
    let file = Arc::new(CardFile::read("a.levare", SHELF));
    Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
}

fn forms(snapshot: &Snapshot, text: &str) -> Vec<String> {
    read(snapshot, text).iter().map(ToString::to_string).collect()
}

/// Written, and its one form; none where it is no condition.
const FORMS: &[(&str, Option<&str>)] = &[
    ("up to 3 flats", Some("up to 3 flats")),
    ("at most 1 sharp", Some("up to 1 sharp")),
    ("no more than two flats", Some("up to 2 flats")),
    ("up to 3 flats or 1 sharp", Some("up to 3 flats or up to 1 sharp")),
    ("2 flats", Some("2 flats")),
    ("in G minor", Some("in G minor")),
    ("G minor", Some("in G minor")),
    ("minor", Some("in minor")),
    ("in Bb", Some("in Bb major")),
    ("D dorian", Some("in D dorian")),
    ("triple meter", Some("triple meter")),
    ("in 6/8", Some("6/8")),
    ("cut time", Some("cut")),
    ("only 4/4", Some("only 4/4")),
    ("no key changes", Some("no key changes")),
    ("mixed meter", Some("meter changes")),
    ("tempo at most 120", Some("tempo at most 120")),
    ("quarter = 60-80", Some("tempo between 60 and 80")),
    ("slow", Some("slow")),
    ("a march", Some("a march")),
    ("an overture", Some("an overture")),
    ("2 marches", Some("2 marches")),
    ("1 lyrical", Some("1 lyrical piece")),
    ("at least one lyrical piece", Some("at least 1 lyrical piece")),
    ("a slow piece", Some("a slow piece")),
    ("a piece in 6/8", Some("a piece 6/8")),
    ("at least 3 pieces", Some("at least 3 pieces")),
    ("lyrical", Some("lyrical")),
    ("not a march", Some("not a march")),
    ("no march", Some("not a march")),
    ("grade 1.5", Some("grade 1.5")),
    ("grade 1-2", Some("grade 1-2")),
    ("up to grade 2", Some("up to grade 2")),
    ("grade 2 or easier", Some("up to grade 2")),
    (
        "grade 2 on \"Thrum Hollow list\"",
        Some("grade 2 on \"Thrum Hollow list\""),
    ),
    ("at most 4 minutes", Some("at most 4 minutes")),
    ("between 2 and 4 minutes", Some("between 2 and 4 minutes")),
    ("3:30 or less", Some("at most 3:30")),
    ("at most 20 minutes in all", Some("at most 20 minutes in all")),
    ("at most 80 bars", Some("at most 80 measures")),
    ("at most 5 percussionists", Some("at most 5 percussionists")),
    ("4 percussion players or fewer", Some("at most 4 percussionists")),
    ("at least 2 keys", Some("at least 2 keys")),
    ("3 different composers", Some("at least 3 composers")),
    (
        "every range at most an octave and a third",
        Some("every range at most an octave and a third"),
    ),
    (
        "clarinet 2 never over the break",
        Some("clarinet 2 never over the break"),
    ),
    ("clarinets below the break", Some("clarinet never over the break")),
    ("trumpet up to D5", Some("trumpet up to D5")),
    ("trumpets no higher than D5", Some("trumpets up to D5")),
    ("trumpet Bb3-D5", Some("trumpet Bb3-D5")),
    ("no solo", Some("no solo")),
    ("no solos", Some("no solo")),
    ("has oboe solo", Some("has oboe solo")),
    ("a trumpet solo", Some("a trumpet solo")),
    ("has timpani", Some("has timpani")),
    ("without timpani", Some("no timpani")),
    ("features trumpet", Some("features trumpet")),
    ("asks triple meter", Some("asks triple meter")),
    ("teaches slurs or ties", Some("teaches slurs or teaches ties")),
    ("not performed since 2023", Some("not performed since 2023")),
    ("never performed", Some("not performed")),
    ("performed before 2020", Some("performed before 2020")),
    ("by Odile Marchetti", Some("by Odile Marchetti")),
    ("from \"Thrum Hollow list\"", Some("from \"Thrum Hollow list\"")),
    ("2 pieces from the list", Some("2 pieces from the list")),
    ("\"County festival\"", Some("\"County festival\"")),
    ("“County festival”", Some("\"County festival\"")),
    ("from Rivermark Editions", Some("from Rivermark Editions")),
    ("owned", Some("owned")),
    ("wanted", Some("wanted")),
    ("costs at most 60 USD", Some("costs at most 60 USD")),
    ("under $60", Some("costs at most 59.99 USD")),
    ("something cheerful to end with", None),
    ("the parents like it", None),
    ("not too long", None),
];

#[test]
fn conditions_have_one_form() {
    let snapshot = &shelf();
    for (written, wanted) in FORMS {
        let found = read(snapshot, written);
        assert_eq!(found.len(), 1, "{written}");
        let unread = found.iter().any(|one| !one.is_heard());
        match wanted {
            Some(wanted) => {
                assert!(!unread, "{written} was not read: {found:?}");
                assert_eq!(forms(snapshot, written), [*wanted], "{written}");
                assert_eq!(forms(snapshot, wanted), [*wanted], "as recopied, {written}");
            }
            None => assert!(unread, "{written} was read as {}", found[0]),
        }
    }
}

#[test]
fn the_comma_binds_loosest_then_or_then_not() {
    let snapshot = &shelf();
    let found = read(snapshot, "a march or a waltz, not minor or up to 2 flats");
    let shapes: Vec<String> = found
        .iter()
        .map(|one| format!("{:?}", std::mem::discriminant(&one.term)))
        .collect();
    assert_eq!(found.len(), 2, "{shapes:?}");
    let Term::Any(all) = &found[1].term else {
        panic!("or binds looser than not: {:?}", found[1])
    };
    assert!(matches!(all[0].term, Term::Not(_)), "{all:?}");
    let text = "a march or a waltz, not minor or up to 2 flats";
    let words: Vec<&str> = all.iter().map(|one| one.span.slice(text)).collect();
    assert_eq!(words, ["not minor", "up to 2 flats"]);
    assert_eq!(found[0].span.slice(text), "a march or a waltz");
}

pub(super) const SHELF: &str = "\
handbook
  notation 1
criteria \"county\"
  calls for up to 2 flats, at most 3 percussionists
criteria \"round\"
  calls for \"about\", up to 2 flats
criteria \"about\"
  calls for \"round\"
criteria \"our grade 1\"
  calls for up to 2 flats, every range at most an octave
criteria \"higher\"
  grade 2
  calls for up to 3 flats
skill \"rocking slurs\"
  also rockers
ensemble \"Band\"
  taught slurs, quarter notes
list \"Rivers\"
  holds \"Lamp\" grade 2
piece \"Lamp\"
  by Odile Marchetti
  grade 1 publisher
  style lyrical
  tonal center G minor, Bb major at 33
  key signature 2 flats
  meter 4/4, 3/4 at 20-21
  tempo quarter = 72
  measures 80
  lasts 4:10
  parts
    flute   D5-C6
    oboe    solo 5-12
    clarinet 1  A3-C5
    clarinet 2  A3-A4
    trumpet  C4-D5
    tuba    Bb1-Bb2
  percussion
    snare  1-80
    bass drum  1-80
    timpani  9-80
    triangle 9-12
  asks slurs
  teaches ties, lyrical playing
  publisher Rivermark Editions, item RE-114, 2019
  techniques muted trumpets, hand claps
  features trumpet section
  suits a young horn section, a strong tuba section
  liked the seventh graders
  price 62 USD
  performed 2024-05-12 \"Band\", went well
  library
    copies 3 scores
piece \"Sparse\"
  style march
piece \"Sharp\"
  key signature 2 sharps
  tonal center D major
  tempo Adagio
  by Tam Lindqvist
  wanted for spring
  needs 2 percussionists
";

#[test]
fn a_piece_answers_yes_no_or_not_known() {
    let snapshot = shelf();
    let evaluator = Evaluator::new(&snapshot);
    // Y for yes, N for no, ? for not known: Lamp, Sparse, Sharp.
    let table = [
        ("up to 2 flats", "Y??"),
        ("up to 1 flat", "N??"),
        ("up to 2 flats or 1 sharp", "Y?N"),
        ("up to 1 sharp", "??N"),
        ("in G minor", "Y?N"),
        ("minor", "Y?N"),
        ("major", "Y?Y"),
        ("F major", "N?N"),
        ("triple meter", "Y??"),
        ("6/8", "N??"),
        ("only 4/4", "N??"),
        ("meter changes", "Y??"),
        ("at least 2 keys", "Y?N"),
        ("slow", "Y?Y"),
        ("fast", "N?N"),
        ("tempo at most 70", "N??"),
        ("a march", "NY?"),
        ("not a march", "YN?"),
        ("lyrical or a march", "YY?"),
        ("grade 1", "Y??"),
        ("grade 2 on \"Rivers\"", "Y??"),
        ("up to grade 2", "Y??"),
        ("up to grade 1", "???"),
        ("at most 4 minutes", "N??"),
        ("4-5 minutes", "Y??"),
        ("at most 100 measures", "Y??"),
        ("at most 3 percussionists", "N?Y"),
        ("at most 4 percussionists", "Y?Y"),
        ("every range at most an octave and a third", "???"),
        ("trumpet up to D5", "Y??"),
        ("trumpet up to C5", "N??"),
        ("clarinet 1 never over the break", "N??"),
        ("clarinet 2 never over the break", "Y??"),
        ("clarinets never over the break", "N??"),
        ("no solo", "N??"),
        ("has oboe solo", "Y??"),
        ("has flute solo", "N??"),
        ("has timpani", "Y??"),
        ("has xylophone", "N??"),
        ("has bassoon", "N??"),
        ("asks slurs", "Y??"),
        ("asks triple meter", "Y??"),
        ("asks syncopation", "N??"),
        ("teaches ties", "Y??"),
        ("by Marchetti", "Y?N"),
        ("from \"Rivers\"", "YNN"),
        ("from \"No Such List\"", "???"),
        ("owned", "Y?N"),
        ("wanted", "NNY"),
        ("costs at most 60 USD", "N??"),
        ("costs at most 70 USD", "Y??"),
        ("costs at most 60 EUR", "???"),
        ("performed since 2024", "YNN"),
        ("not performed since 2023", "NYY"),
        ("performed before 2025", "YNN"),
        ("performed since June 2024", "NNN"),
        ("performed by \"Band\"", "YNN"),
        ("\"county\"", "N??"),
        ("\"round\"", "???"),
        ("\"nobody\"", "???"),
        ("whatever fits", "???"),
    ];
    for (written, wanted) in table {
        let condition = &read(&snapshot, written)[0];
        let answers: String = ["Lamp", "Sparse", "Sharp"]
            .iter()
            .map(|title| {
                let id = snapshot.pieces_titled(title, None)[0];
                let subject = Subject::of(id, snapshot.entry(id).expect("it is there")).expect("a piece");
                match evaluator.piece(condition, &subject) {
                    Truth::Yes(_) => 'Y',
                    Truth::No(_) => 'N',
                    Truth::Unknown(_) => '?',
                }
            })
            .collect();
        assert_eq!(answers, wanted, "{written}");
    }
    let lowest = |title: &str| {
        let id = snapshot.pieces_titled(title, None)[0];
        lowest_met(
            &Evaluator::new(&snapshot),
            &Subject::of(id, snapshot.entry(id).expect("there")).expect("a piece"),
        )
    };
    assert_eq!(lowest("Lamp"), Some(200));
    assert_eq!(lowest("Sparse"), None);
}

#[test]
fn slips_are_offered_and_plain_words_are_not() {
    let snapshot = shelf();
    let table = [
        ("at most 5 percusionists", Some("at most 5 percussionists")),
        ("at lest 2 keys", Some("at least 2 keys")),
        ("up to 3 flts", Some("up to 3 flats")),
        ("a marhc", Some("a march")),
        ("clarinets over the braek", Some("clarinets over the break")),
        ("asks sincopation", Some("asks syncopation")),
        ("by Odile Marcheti", Some("by Odile Marchetti")),
        (
            "evrey range at most an octave",
            Some("every range at most an octave"),
        ),
        ("something cheerful", None),
        ("a closer", None),
        ("a ballet", None),
        ("the mayor speaks", None),
    ];
    for (written, wanted) in table {
        let left = unheard(&snapshot, written);
        assert_eq!(left.len(), 1, "{written}: {left:?}");
        let form = left[0].1.form.as_deref().map(str::to_lowercase);
        assert_eq!(form, wanted.map(str::to_lowercase), "{written}");
    }
}

proptest::proptest! {
    #[test]
    fn nothing_written_stops_the_reader(text in "(not |or |a |no |only |piece |at most |[0-9]{1,30} |between |\"|“|every range |grade |[a-zé♭,.:=/-]{1,6} ){0,40}") {
        let snapshot = Snapshot::new(Vec::new(), jiff::civil::date(2026, 10, 20));
        let found = read(&snapshot, &text);
        for one in &found {
            proptest::prop_assert!(text.get(one.span.start as usize..one.span.end as usize).is_some());
            let _ = one.to_string();
        }
    }
}

#[test]
fn what_was_learned_decides() {
    let card = "piece \"A\"\n  performed 2022-05-01, took 8 weeks, went badly\n  performed 2025-05-01, took 3 weeks, result II I\n  key signature 1 sharp\n  parts\n    flute D5-C6\n    alto sax C5-C6\n  notes Play it in the gym.\n";
    let file = Arc::new(CardFile::read("a.levare", card));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let id = snapshot.pieces_titled("A", None)[0];
    let subject = Subject::of(id, snapshot.entry(id).expect("it is there")).expect("a piece");
    let says = |condition: &str| {
        let all = read(&snapshot, condition);
        assert_eq!(all.len(), 1, "{condition}");
        Evaluator::new(&snapshot).piece(&all[0], &subject)
    };
    assert!(says("took at most 3 weeks").is_yes(), "the last time counts");
    assert!(says("took at least 4 weeks").is_no());
    assert!(says("result I").is_yes() && says("result III").is_no());
    assert!(says("went badly").is_yes() && says("went well").is_no());
    assert!(says("performed before 2023").is_yes());
    assert!(says("last performed before 2023").is_no());
    assert!(says("last performed in 2025").is_yes());
    assert!(says("last performed in 2022").is_no());
    // Concert 1 sharp is 4 sharps for the alto saxes.
    assert!(says("every part up to 4 sharps").is_yes());
    let no = says("every part up to 3 sharps");
    assert!(
        no.is_no() && no.words().contains("alto sax reads 4 sharps"),
        "{no:?}"
    );
    assert!(says("flute up to 1 sharp").is_yes());
    assert!(says("notes says \"the GYM\"").is_yes());
    assert!(says("notes says \"bus\"").is_no());
    assert!(matches!(says("learned says \"bus\""), Truth::Unknown(_)));
    assert!(says("grade unknown").is_yes() && says("notes known").is_yes());
    assert!(matches!(says("up to grade 2 by our criteria"), Truth::Unknown(_)));
}
